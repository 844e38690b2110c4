/** How far the slab is filled and what is still to come. SI; no DOM. */
import type { Bay, Load } from '../../../shared/job'
import { USUAL_WASTE } from '../layout/take-off'
import { stepState } from '../steps'

/** What the screens read of a load already logged. */
export interface LoggedLoad {
  readonly id: string
  readonly number: number
  readonly volume_m3: number
  readonly batched_at: string
  readonly slump_mm?: number | null | undefined
  readonly concrete_temp_c?: number | null | undefined
  readonly placed?: { readonly from: string; readonly to: string } | null | undefined
}

export interface Fill {
  /** Neat volume of the slab [m³]; null while it has no outline. */
  readonly slab_m3: number | null
  readonly placed_m3: number
  /** In the drums on site, less what the bays done show to be out of them [m³]. */
  readonly on_truck_m3: number
  readonly ordered_m3: number | null
  readonly loads_to_come: number | null
  /** On order and not here yet [m³]; null without an order. */
  readonly to_come_m3: number | null
  /** What still has to go in, with the allowance [m³]; null without an outline. */
  readonly open_m3: number | null
  /** Share taken over the drawn volume. */
  readonly allowance: number
  /** The same as the finished bays show it; null until a load and its bays are done. */
  readonly measured: number | null
  /** The bays done hold more than the tickets brought: a ticket lacks, or the slab is thin. */
  readonly thin: boolean
  /** Missing once every truck on site and on order is empty [m³]; 0 when they reach, null when that can't be said. */
  readonly short_m3: number | null
  /** Left over then [m³]. */
  readonly over_m3: number | null
}

interface Slab {
  readonly area_m2: number
  readonly thickness_m: number
  readonly volume_m3: number
}

interface Order {
  readonly volume_m3: number
  readonly loads: number
}

/** Spill and base always take some: the least allowance kept, and the most believed of what bays show (estimates). */
const LEAST_ALLOWANCE = 0.03
const MOST_ALLOWANCE = 0.1
const MOST_MEASURED = 0.3
/** Less than drawn by more than this is no measure of what the slab takes (estimate). */
const THIN = 0.05
/** What volumes on tickets and tapes can't tell [m³]. */
const NOISE_M3 = 0.05
/** The done part of a slab that says how thick it comes out. */
const ENOUGH_SHOWN = 0.15

type FilledBay = Pick<Bay, 'area_m2' | 'load' | 'steps'>

/** Struck off to its end. */
export function isFilled(bay: FilledBay): boolean {
  return stepState(bay, 'strike_off') === 'done'
}

export function fillOf(slab: Slab | null, order: Order | null, loads: readonly LoggedLoad[], bays: readonly FilledBay[] = []): Fill {
  const placed_m3 = sum(loads.filter(isDown))
  const placing_m3 = sum(loads.filter(isPlacing))
  const on_site_m3 = sum(loads.filter((load) => !isDown(load)))
  const measured = slab && measuredShare(slab, loads, bays)
  const allowance = measured ?? plannedShare(slab, order)
  const drawn_m3 = slab ? filledArea(bays) * slab.thickness_m : 0
  const shown_m3 = drawn_m3 * (1 + allowance)
  // Struck-off bays show what is out of the drum being placed, never out of one that waits.
  const in_m3 = Math.max(placed_m3, Math.min(shown_m3, placed_m3 + placing_m3))
  const on_truck_m3 = on_site_m3 - (in_m3 - placed_m3)
  const loads_to_come = order ? Math.max(0, order.loads - loads.length) : null
  const to_come_m3 = order ? (loads_to_come ? Math.max(0, order.volume_m3 - placed_m3 - on_site_m3) : 0) : null
  const open_m3 = slab ? Math.max(0, slab.volume_m3 * (1 + allowance) - Math.max(in_m3, shown_m3)) : null
  const gap = open_m3 === null || to_come_m3 === null ? null : open_m3 - on_truck_m3 - to_come_m3
  return {
    slab_m3: slab?.volume_m3 ?? null, placed_m3, on_truck_m3, ordered_m3: order?.volume_m3 ?? null, loads_to_come, to_come_m3, open_m3, allowance, measured,
    thin: drawn_m3 * (1 - THIN) > placed_m3 + placing_m3 + NOISE_M3,
    short_m3: gap === null ? null : Math.max(0, gap), over_m3: gap === null ? null : Math.max(0, -gap),
  }
}

/** What the order keeps over the drawn volume; the usual without one. */
function plannedShare(slab: Slab | null, order: Order | null): number {
  if (!slab || !order || slab.volume_m3 <= 0) return USUAL_WASTE
  return Math.min(MOST_ALLOWANCE, Math.max(LEAST_ALLOWANCE, order.volume_m3 / slab.volume_m3 - 1))
}

/** How much more than drawn went into the bays whose loads are down and which are all struck off. */
function measuredShare(slab: Slab, loads: readonly LoggedLoad[], bays: readonly FilledBay[]): number | null {
  const whole = loads.filter((load) => {
    const mine = bays.filter((bay) => bay.load === load.id)
    return isDown(load) && mine.length > 0 && mine.every(isFilled)
  })
  const ids = new Set(whole.map((load) => load.id))
  const area = filledArea(bays.filter((bay) => bay.load !== null && ids.has(bay.load)))
  if (area < slab.area_m2 * ENOUGH_SHOWN) return null
  const share = sum(whole) / (area * slab.thickness_m) - 1
  if (share < -THIN) return null
  return Math.min(MOST_MEASURED, Math.max(LEAST_ALLOWANCE, share))
}

function filledArea(bays: readonly FilledBay[]): number {
  return bays.filter(isFilled).reduce((total, bay) => total + bay.area_m2, 0)
}

function sum(loads: readonly Pick<LoggedLoad, 'volume_m3'>[]): number {
  return loads.reduce((total, load) => total + load.volume_m3, 0)
}

/** Half a yard: less is not worth a call (estimate) [m³]. */
const WORTH_A_CALL_M3 = 0.38

export type Call =
  | { readonly what: 'short'; readonly by_m3: number }
  | { readonly what: 'cut_last'; readonly to_m3: number; readonly from_m3: number; readonly share: boolean }
  | { readonly what: 'drop_last'; readonly each_m3: number }
  | { readonly what: 'left_over'; readonly by_m3: number }
  | { readonly what: 'none' }

/** What to tell the plant: more, less, or nothing. `small_m3`: a load under that differs in colour from its neighbours. */
export function callOf(fill: Fill, small_m3: number): Call {
  const { short_m3, over_m3, loads_to_come, to_come_m3 } = fill
  if (short_m3 === null || over_m3 === null) return { what: 'none' }
  if (short_m3 > NOISE_M3) return { what: 'short', by_m3: short_m3 }
  if (fill.thin || over_m3 < WORTH_A_CALL_M3) return { what: 'none' }
  if (!loads_to_come || !to_come_m3) return { what: 'left_over', by_m3: over_m3 }
  const each_m3 = to_come_m3 / loads_to_come
  const last_m3 = each_m3 - over_m3
  if (last_m3 <= WORTH_A_CALL_M3) return { what: 'drop_last', each_m3 }
  return { what: 'cut_last', to_m3: last_m3, from_m3: each_m3, share: loads_to_come > 1 && last_m3 < small_m3 }
}

/** Being placed: begun, and no end said yet. The log keeps that as a placement that ends where it begins. */
export function isPlacing(load: Pick<LoggedLoad, 'placed'>): boolean {
  return !!load.placed && load.placed.from === load.placed.to
}

/** All of it is on the slab. */
export function isDown(load: Pick<LoggedLoad, 'placed'>): boolean {
  return !!load.placed && !isPlacing(load)
}

/** When placing ended: now, but always after it began, or it would still count as going on. */
export function endAfter(from: string, now: Date): string {
  return new Date(Math.max(now.getTime(), Date.parse(from) + 1000)).toISOString()
}

/** Planned loads stand that far apart, as the windows take it too (common practice, no source) [ms]. */
const BETWEEN_LOADS_MS = 45 * 60_000

export interface Arrival {
  readonly number: number
  readonly volume_m3: number
  readonly at: Date
}

/** The next truck on order: about when, and with how much. Null when all are in. */
export function nextArrival(order: (Order & { readonly pour_at: string }) | null, loads: readonly Pick<Load, 'number' | 'volume_m3' | 'placed' | 'at' | 'batched_at'>[], fill: Fill): Arrival | null {
  if (!order || !fill.loads_to_come || !fill.to_come_m3) return null
  const number = loads.reduce((most, load) => Math.max(most, load.number), 0) + 1
  const planned = Date.parse(order.pour_at) + loads.length * BETWEEN_LOADS_MS
  const last = loads[loads.length - 1]
  const here = last ? Date.parse(last.placed?.from ?? last.at) + BETWEEN_LOADS_MS : planned
  return { number, volume_m3: fill.to_come_m3 / fill.loads_to_come, at: new Date(Math.max(planned, here)) }
}
