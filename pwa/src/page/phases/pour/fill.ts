/** How far the slab is filled and what is still to come. SI; no DOM. */
import type { LoggedLoad } from './ticket'

export interface Fill {
  /** Neat volume of the slab [m³]; null while it has no outline. */
  readonly slab_m3: number | null
  readonly placed_m3: number
  readonly on_site_m3: number
  readonly ordered_m3: number | null
  readonly loads_to_come: number | null
  /** Slab volume not yet placed [m³]; negative when more was placed than the slab holds. */
  readonly left_m3: number | null
  /** What trucks on site and still on order can bring [m³]; null without an order. */
  readonly coming_m3: number | null
  /** How much the order falls short of filling the slab [m³], 0 when it reaches. */
  readonly short_m3: number
}

export function fillOf(
  slab_m3: number | null | undefined,
  order: { readonly volume_m3: number; readonly loads: number } | null | undefined,
  loads: readonly LoggedLoad[],
): Fill {
  const placed_m3 = sum(loads.filter(isDown))
  const on_site_m3 = sum(loads.filter((load) => !isDown(load)))
  const left_m3 = typeof slab_m3 === 'number' ? slab_m3 - placed_m3 : null
  const coming_m3 = order ? Math.max(on_site_m3, order.volume_m3 - placed_m3) : null
  return {
    slab_m3: slab_m3 ?? null,
    placed_m3,
    on_site_m3,
    ordered_m3: order?.volume_m3 ?? null,
    loads_to_come: order ? Math.max(0, order.loads - loads.length) : null,
    left_m3,
    coming_m3,
    short_m3: left_m3 !== null && coming_m3 !== null ? Math.max(0, left_m3 - coming_m3) : 0,
  }
}

function sum(loads: readonly LoggedLoad[]): number {
  return loads.reduce((total, load) => total + load.volume_m3, 0)
}

/** Being placed: begun, and no end said yet. The log keeps that as a placement that ends where it begins. */
export function isPlacing(load: LoggedLoad): boolean {
  return !!load.placed && load.placed.from === load.placed.to
}

/** All of it is on the slab. */
export function isDown(load: LoggedLoad): boolean {
  return !!load.placed && !isPlacing(load)
}

/** When placing ended: now, but always after it began, or it would still count as going on. */
export function endAfter(from: string, now: Date): string {
  return new Date(Math.max(now.getTime(), Date.parse(from) + 1000)).toISOString()
}
