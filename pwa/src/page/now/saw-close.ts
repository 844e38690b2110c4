/** When the saw may start and must be done: by our reckoning, by the handbooks, and which of them counts. No DOM. */
import type { LoadTimeline, SawPractice, TimeWindow } from '../sync/contract'

export type By = 'ours' | 'handbook'

export interface Beside {
  readonly ours: TimeWindow | null
  readonly handbook: SawPractice | null
  readonly opens: { readonly at: Date; readonly by: By }
  readonly closes: { readonly at: Date; readonly by: By } | null
  /** The handbooks close it because the surface has cooled, not by the clock. */
  readonly cooled: boolean
}

/** However early the handbooks close, a saw is left this long (EST) [ms]. */
const LEAST_WINDOW_MS = 2 * 3_600_000

/** One load's saw: ours opens it, whoever closes first closes it; null where neither says anything. */
export function sawBeside(load: LoadTimeline): Beside | null {
  const ours = load.windows.saw ?? null
  const handbook = load.saw_practice ?? null
  const cooled = handbook !== null && handbook.surface_drop !== null && handbook.source.includes('FHWA')
  if (!ours) {
    if (!handbook) return null
    return { ours, handbook, cooled, opens: { at: new Date(handbook.opens), by: 'handbook' }, closes: { at: new Date(handbook.closes), by: 'handbook' } }
  }
  const opens = { at: new Date(ours.opens.likely), by: 'ours' as const }
  return { ours, handbook, cooled, opens, closes: closing(ours, handbook) }
}

function closing(ours: TimeWindow, handbook: SawPractice | null): Beside['closes'] {
  if (!ours.closes) return null
  const own = new Date(ours.closes.likely)
  if (!handbook) return { at: own, by: 'ours' }
  const left = Math.max(Date.parse(handbook.closes), Date.parse(ours.opens.likely) + LEAST_WINDOW_MS)
  return left < own.getTime() ? { at: new Date(left), by: 'handbook' } : { at: own, by: 'ours' }
}
