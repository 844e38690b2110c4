/** From where a spot on the slab can be worked without stepping on finished work. Metres; no DOM. */
import { contains, distance, distanceToSide, sides, turn, type Point, type Ring } from '../../plan/geometry'

/** How far a person reaches from the edge, a board or firm ground, kneeling [m] (EST). */
export const REACH_M = 0.9
/** Shorter contacts than this are corners, not ways through [m] (EST). */
const LEAST_WAY_M = 0.3
const TOUCHING_M = 0.02

export interface WalkBay {
  readonly id: string
  readonly label: string
  readonly corners: Ring
  readonly ground: Ground
}

/** soft: not textured yet, worked from mats; shut: textured and still soft, nobody steps there; firm: may be stepped on. */
export type Ground = 'soft' | 'shut' | 'firm'

export interface WalkSlab {
  readonly corners: Ring
  /** Sides that something stands against: nobody kneels there. */
  readonly barred: readonly number[]
}

export type How = 'edge' | 'walk' | 'mat' | 'board'

/** edge: within reach of a free side; walk and mat: from a firm or an untextured bay that is reached over such bays; else a board. */
export function howToReach(spot: Point, slab: WalkSlab, bays: readonly WalkBay[]): How {
  if (freeSides(slab).some((side) => distanceToSide(spot, side) <= REACH_M)) return 'edge'
  if (bays.length === 0) return 'walk'
  const near = openGround(slab, bays).filter((bay) => contains(bay.corners, spot) || sides(bay.corners).some((side) => distanceToSide(spot, side) <= REACH_M))
  if (near.length === 0) return 'board'
  return near.some(({ ground }) => ground === 'firm') ? 'walk' : 'mat'
}

export function freeSides({ corners, barred }: WalkSlab): readonly Side[] {
  return sides(corners).filter((_, i) => !barred.includes(i))
}

type Side = readonly [Point, Point]

/** Bays that may be stepped on, with mats or without, and are reached from a free side over others of their kind. */
export function openGround(slab: WalkSlab, bays: readonly WalkBay[]): readonly WalkBay[] {
  const steppable = bays.filter(({ ground }) => ground !== 'shut')
  const free = freeSides(slab)
  const reached = new Set(steppable.filter((bay) => contact(sides(bay.corners), free) >= LEAST_WAY_M))
  for (let grown = -1; grown !== reached.size; ) {
    grown = reached.size
    for (const bay of steppable) {
      if (!reached.has(bay) && [...reached].some((one) => contact(sides(bay.corners), sides(one.corners)) >= LEAST_WAY_M)) reached.add(bay)
    }
  }
  return steppable.filter((bay) => reached.has(bay))
}

/** Length along which two sets of sides lie on each other [m]. */
function contact(ones: readonly Side[], others: readonly Side[]): number {
  return ones.reduce((sum, one) => sum + others.reduce((part, other) => part + overlap(one, other), 0), 0)
}

function overlap([a, b]: Side, [c, d]: Side): number {
  const length = distance(a, b)
  if (length === 0) return 0
  const off = (p: Point): number => Math.abs(turn(a, b, p)) / length
  if (off(c) > TOUCHING_M || off(d) > TOUCHING_M) return 0
  const along = (p: Point): number => ((p[0] - a[0]) * (b[0] - a[0]) + (p[1] - a[1]) * (b[1] - a[1])) / length
  const [from, to] = [along(c), along(d)]
  return Math.max(0, Math.min(length, Math.max(from, to)) - Math.max(0, Math.min(from, to)))
}

/** Shortest way from a spot to a side without leaving the slab [m]: round the corners that point inwards. */
export function wayTo(spot: Point, side: Side, outline: Ring): number {
  const nodes: Point[] = [spot, ...outline]
  const best = nodes.map((_, i) => (i === 0 ? 0 : Infinity))
  const open = new Set(nodes.keys())
  let shortest = Infinity
  while (open.size > 0) {
    const at = [...open].reduce((a, b) => ((best[b] ?? Infinity) < (best[a] ?? Infinity) ? b : a))
    open.delete(at)
    const [here, gone] = [nodes[at], best[at] ?? Infinity]
    if (!here || gone === Infinity) break
    const foot = nearestOn(side, here)
    if (isInside(here, foot, outline)) shortest = Math.min(shortest, gone + distance(here, foot))
    for (const next of open) {
      const there = nodes[next]
      if (there && isInside(here, there, outline)) best[next] = Math.min(best[next] ?? Infinity, gone + distance(here, there))
    }
  }
  return shortest
}

export function nearestOn([a, b]: Side, p: Point): Point {
  const length2 = distance(a, b) ** 2
  const share = length2 === 0 ? 0 : Math.max(0, Math.min(1, ((p[0] - a[0]) * (b[0] - a[0]) + (p[1] - a[1]) * (b[1] - a[1])) / length2))
  return [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])]
}

const SAMPLES = [0.02, 0.25, 0.5, 0.75, 0.98]

/** Whether the straight line between two points of the slab stays on it; along its rim counts as on it. */
function isInside(from: Point, to: Point, outline: Ring): boolean {
  if (distance(from, to) < 1e-9) return true
  if (sides(outline).some(([a, b]) => turn(from, to, a) * turn(from, to, b) < -1e-9 && turn(a, b, from) * turn(a, b, to) < -1e-9)) return false
  return SAMPLES.every((share) => {
    const p: Point = [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])]
    return contains(outline, p) || sides(outline).some((side) => distanceToSide(p, side) < 1e-6)
  })
}
