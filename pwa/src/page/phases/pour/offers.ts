/** Values one touch away on a ticket: as the load before, as load 1, as ordered. SI; no DOM. */
import type { KnownLoad } from './match'
import type { TicketDraft } from './ticket'

export type Offered = 'volume_m3' | 'slump_mm' | 'concrete_temp_c' | 'water_added_l' | 'water_allowed_l' | 'colour_bags'

export interface Offer {
  readonly value: number
  /** as_load: that load had it. ordered: the order asks for it. none: nothing was added. */
  readonly from: 'as_load' | 'ordered' | 'none'
  readonly load?: number
}

interface Known {
  readonly loads: readonly KnownLoad[]
  readonly order: { readonly volume_m3: number; readonly loads: number; readonly slump_mm: number | null } | null
}

const SAME = 1e-6
/** A quarter bag is as fine as bags are split (estimate). */
const BAG_GRAIN = 0.25

/** Offers for a field, the last load's first; each value once, and never the one that stands there. */
export function offersFor(field: Offered, draft: TicketDraft, { loads, order }: Known, editing?: string): Offer[] {
  const others = [...loads].filter((load) => load.id !== editing).sort((a, b) => b.number - a.number)
  const asLoads = [others[0], others[others.length - 1]].flatMap((load): Offer[] => {
    const value = load ? valueOf(field, load, draft) : null
    return load && value !== null ? [{ value, from: 'as_load', load: load.number }] : []
  })
  const ordered = order && field === 'slump_mm' ? order.slump_mm : order && field === 'volume_m3' ? order.volume_m3 / order.loads : null
  const all = [...(field === 'water_added_l' ? [{ value: 0, from: 'none' } as const] : []), ...asLoads, ...(ordered === null ? [] : [{ value: ordered, from: 'ordered' } as const])]
  return all.filter((one, i) => Math.abs(one.value - (draft[field] ?? NaN)) > SAME || draft[field] === null ? all.findIndex((two) => Math.abs(two.value - one.value) < SAME) === i : false)
}

/** Colour goes by the volume: the bags that make this load like that one. */
function valueOf(field: Offered, load: KnownLoad, draft: TicketDraft): number | null {
  const value = load[field]
  if (field !== 'colour_bags' || value === null || !draft.volume_m3) return value
  return Math.round((value / load.volume_m3) * draft.volume_m3 / BAG_GRAIN) * BAG_GRAIN
}
