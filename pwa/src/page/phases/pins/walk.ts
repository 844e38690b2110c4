/**
 * The order in which open pins are walked, so that nobody steps on finished work. No DOM.
 *
 * 1. From the far end toward the side one leaves by: what is done stays behind.
 * 2. Pins equally far (within one arm's reach) are taken across the slab, there and back.
 * 3. Never over a bay that is textured and still soft: such a pin is done from an edge or firm ground within reach,
 *    else from a board.
 */
import type { Bay, JobView, Pin } from '../../../shared/job'
import { centroid, contains, distance, distanceToSide, sides, type Point, type Ring } from '../../plan/geometry'
import type { Timeline } from '../../sync/contract'
import { howToReach, nearestOn, REACH_M, wayTo, type Ground, type How, type WalkBay, type WalkSlab } from './reach'

/** Resistance to penetration at final set [MPa] (ASTM C403, 4,000 psi): firm enough to step on with care. */
const WALKABLE_MPA = 27.6
/** Without times for the load: the next day (EST). */
const WALKABLE_MS = 24 * 3_600_000

export interface Stop {
  readonly pin: Pin
  readonly how: How
  /** The soft bay the pin lies in, when a board is needed. */
  readonly over: string | null
  readonly left_m: number
}

export interface Walk {
  /** Index of the side one leaves by. */
  readonly exit: number
  /** Sides one may leave by, in order round the slab. */
  readonly exits: readonly number[]
  readonly stops: readonly Stop[]
}

/** The walk over a job's open pins; null until there is an outline. `wanted`: the side someone chose to leave by, else a guess. */
export function walkOf(job: Pick<JobView, 'slab' | 'bays' | 'pins'>, timeline: Timeline | null, now: Date, of: (pin: Pin) => boolean, wanted: number | null = null): Walk | null {
  if (!job.slab) return null
  const slab = { corners: job.slab.corners, barred: job.slab.abutting.map(({ edge }) => edge) }
  const bays = job.bays.map((bay) => ({ id: bay.id, label: bay.label, corners: bay.corners, ground: groundOf(bay, timeline, now) }))
  const open = job.pins.filter((pin) => pin.open && of(pin))
  const exits = waysOut(slab)
  const exit = wanted !== null && exits.includes(wanted) ? wanted : exitSide(slab, bays)
  return { exit, exits, stops: orderPins(open, slab, bays, exit) }
}

/** soft: not textured yet, worked from mats; shut: textured, and nobody steps there; firm: may be stepped on. */
export function groundOf(bay: Bay, timeline: Timeline | null, now: Date): Ground {
  const ended = bay.steps.texture?.end
  const curve = timeline?.loads.find((load) => load.id === bay.load)?.curve ?? []
  const firm = curve.find((point) => point.penetration_mpa >= WALKABLE_MPA)
  const from = firm ? Date.parse(firm.at) : ended ? Date.parse(ended.at) + WALKABLE_MS : Infinity
  if (now.getTime() >= from) return 'firm'
  return ended ? 'shut' : 'soft'
}

/** The sides that nothing stands against; all of them where every side is taken. */
function waysOut({ corners, barred }: WalkSlab): readonly number[] {
  const all = sides(corners).map((_, i) => i)
  const free = all.filter((i) => !barred.includes(i))
  return free.length > 0 ? free : all
}

/** The way out nearest to a spot that was touched. */
export function wayOutAt(spot: Point, { exits }: Pick<Walk, 'exits'>, corners: Ring): number | null {
  const all = sides(corners)
  const far = (i: number): number => (all[i] ? distanceToSide(spot, all[i]) : Infinity)
  return exits.reduce<number | null>((best, one) => (best === null || far(one) < far(best) ? one : best), null)
}

/** The free side farthest from where the work began: pours run from the far end to the way out (common practice, no source). */
export function exitSide(slab: WalkSlab, bays: readonly Pick<WalkBay, 'corners'>[]): number {
  const all = sides(slab.corners)
  const candidates = waysOut(slab).flatMap((i) => (all[i] ? [{ side: all[i], i }] : []))
  const first = bays[0]
  const worth = ({ side: [a, b] }: { readonly side: readonly [Point, Point] }): number =>
    first ? distance(centroid(first.corners), [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2]) : distance(a, b)
  return candidates.reduce((best, one) => (worth(one) > worth(best) + 1e-9 ? one : best)).i
}

export function orderPins(pins: readonly Pin[], slab: WalkSlab, bays: readonly WalkBay[], exit: number): Stop[] {
  const side = sides(slab.corners)[exit]
  if (!side) return []
  const stops = pins.map((pin) => ({ ...stopAt(pin, slab, bays), left_m: wayTo(onSlab(pin.spot, slab.corners), side, slab.corners), across_m: across(pin.spot, side) }))
  const band = ({ left_m }: { readonly left_m: number }): number => Math.floor(left_m / REACH_M + 1e-9)
  const bands = [...new Set(stops.map(band))].sort((a, b) => b - a)
  return bands.flatMap((one, turn) => {
    const within = stops.filter((stop) => band(stop) === one).sort((a, b) => a.across_m - b.across_m)
    return (turn % 2 === 0 ? within : within.reverse()).map(({ pin, how, over, left_m }) => ({ pin, how, over, left_m }))
  })
}

function stopAt(pin: Pin, slab: WalkSlab, bays: readonly WalkBay[]): Pick<Stop, 'pin' | 'how' | 'over'> {
  const how = howToReach(pin.spot, slab, bays)
  const bay = bays.find(({ corners }) => contains(corners, pin.spot))
  return { pin, how, over: how === 'board' && bay?.ground === 'shut' ? bay.label : null }
}

/** A pin beside the slab (a splash on the wall) is reached from the slab's nearest point. */
function onSlab(spot: Point, outline: Ring): Point {
  const nearest = sides(outline).reduce((best, side) => (distanceToSide(spot, side) < distanceToSide(spot, best) ? side : best))
  const foot = nearestOn(nearest, spot)
  return Number.isFinite(wayTo(spot, nearest, outline)) ? spot : foot
}

function across(spot: Point, [a, b]: readonly [Point, Point]): number {
  const length = distance(a, b) || 1
  return ((spot[0] - a[0]) * (b[0] - a[0]) + (spot[1] - a[1]) * (b[1] - a[1])) / length
}

