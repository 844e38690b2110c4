/** Plane geometry on plans. Points are [x, y] in metres, x to the right and y up; polygons are open rings (the last corner joins the first). */

export type Point = readonly [number, number]
export type Ring = readonly Point[]

/** Two points closer than this are one point [m]: far below anything a tape can tell apart. */
export const SAME_POINT_M = 1e-6

export function distance(a: Point, b: Point): number {
  return Math.hypot(b[0] - a[0], b[1] - a[1])
}

/** Twice the signed area of the triangle a, b, c [m²]; positive when c lies to the left of a→b. */
export function turn(a: Point, b: Point, c: Point): number {
  return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
}

/** The sides of a ring, side i running from corner i to corner i + 1. */
export function sides(ring: Ring): readonly (readonly [Point, Point])[] {
  return ring.map((from, i) => [from, ring[(i + 1) % ring.length] ?? from] as const)
}

/** Signed area [m²]: positive when the corners run counter-clockwise. */
export function signedArea(ring: Ring): number {
  return sides(ring).reduce((sum, [a, b]) => sum + a[0] * b[1] - b[0] * a[1], 0) / 2
}

export function area(ring: Ring): number {
  return Math.abs(signedArea(ring))
}

export function perimeter(ring: Ring): number {
  return sides(ring).reduce((sum, [a, b]) => sum + distance(a, b), 0)
}

export interface Box {
  readonly minX: number
  readonly minY: number
  readonly maxX: number
  readonly maxY: number
}

export function boundsOf(points: readonly Point[]): Box {
  const xs = points.map((p) => p[0])
  const ys = points.map((p) => p[1])
  if (points.length === 0) return { minX: 0, minY: 0, maxX: 0, maxY: 0 }
  return { minX: Math.min(...xs), minY: Math.min(...ys), maxX: Math.max(...xs), maxY: Math.max(...ys) }
}

/** Centre of area; of the corners when the ring has no area. */
export function centroid(ring: Ring): Point {
  const doubled = 2 * signedArea(ring)
  if (Math.abs(doubled) < 1e-12) {
    const n = Math.max(1, ring.length)
    return [ring.reduce((s, p) => s + p[0], 0) / n, ring.reduce((s, p) => s + p[1], 0) / n]
  }
  let x = 0
  let y = 0
  for (const [a, b] of sides(ring)) {
    const cross = a[0] * b[1] - b[0] * a[1]
    x += (a[0] + b[0]) * cross
    y += (a[1] + b[1]) * cross
  }
  return [x / (3 * doubled), y / (3 * doubled)]
}

/** Whether the point lies inside the ring (even-odd rule). */
export function contains(ring: Ring, [x, y]: Point): boolean {
  let inside = false
  for (const [a, b] of sides(ring)) {
    const crosses = a[1] > y !== b[1] > y
    if (crosses && x < ((b[0] - a[0]) * (y - a[1])) / (b[1] - a[1]) + a[0]) inside = !inside
  }
  return inside
}

/** A point inside the ring where a label can stand: the centroid, or the middle of the widest level run. */
export function labelPoint(ring: Ring): Point {
  const centre = centroid(ring)
  if (contains(ring, centre)) return centre
  const { minY, maxY } = boundsOf(ring)
  const levels = [0.5, 0.25, 0.75, 0.1, 0.9].map((share) => minY + (maxY - minY) * share)
  const runs = levels.flatMap((level) => levelRuns(ring, level))
  const widest = runs.reduce<Run | undefined>((best, run) => (!best || run.to - run.from > best.to - best.from ? run : best), undefined)
  return widest ? [(widest.from + widest.to) / 2, widest.level] : centre
}

/** How wide the ring is at a point inside it, along x [m]. */
export function roomAt(ring: Ring, [x, y]: Point): number {
  const run = levelRuns(ring, y).find((one) => one.from <= x && x <= one.to)
  return run ? 2 * Math.min(x - run.from, run.to - x) : 0
}

interface Run {
  readonly level: number
  readonly from: number
  readonly to: number
}

function levelRuns(ring: Ring, level: number): Run[] {
  const xs = sides(ring)
    .filter(([a, b]) => a[1] > level !== b[1] > level)
    .map(([a, b]) => a[0] + ((b[0] - a[0]) * (level - a[1])) / (b[1] - a[1]))
    .sort((p, q) => p - q)
  const runs: Run[] = []
  for (let i = 0; i + 1 < xs.length; i += 2) runs.push({ level, from: xs[i] ?? 0, to: xs[i + 1] ?? 0 })
  return runs
}

/** Shortest distance from a point to a side [m]. */
export function distanceToSide(p: Point, [a, b]: readonly [Point, Point]): number {
  const length2 = (b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2
  if (length2 === 0) return distance(p, a)
  const along = ((p[0] - a[0]) * (b[0] - a[0]) + (p[1] - a[1]) * (b[1] - a[1])) / length2
  const t = Math.max(0, Math.min(1, along))
  return distance(p, [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])])
}

/** The first two sides that cross or touch where they should not, or undefined when the ring is simple. */
export function crossingSides(ring: Ring): readonly [number, number] | undefined {
  const all = sides(ring)
  for (let i = 0; i < all.length; i++) {
    for (let j = i + 1; j < all.length; j++) {
      const one = all[i]
      const other = all[j]
      if (one && other && meetWrongly(one, other, j === i + 1, i === 0 && j === all.length - 1)) return [i, j]
    }
  }
  return undefined
}

type Side = readonly [Point, Point]

/** Neighbours may share their corner but must not fold back on each other; others must not meet at all. */
function meetWrongly(one: Side, other: Side, follows: boolean, closes: boolean): boolean {
  if (follows) return foldsBack(one[0], one[1], other[1])
  if (closes) return foldsBack(other[0], other[1], one[1])
  return segmentsMeet(one, other)
}

function foldsBack(before: Point, corner: Point, after: Point): boolean {
  if (Math.abs(turn(before, corner, after)) > 1e-9) return false
  return (before[0] - corner[0]) * (after[0] - corner[0]) + (before[1] - corner[1]) * (after[1] - corner[1]) > 0
}

function segmentsMeet([a, b]: Side, [c, d]: Side): boolean {
  const t1 = turn(a, b, c)
  const t2 = turn(a, b, d)
  const t3 = turn(c, d, a)
  const t4 = turn(c, d, b)
  if (t1 * t2 < 0 && t3 * t4 < 0) return true
  return (
    (t1 === 0 && distanceToSide(c, [a, b]) < SAME_POINT_M) ||
    (t2 === 0 && distanceToSide(d, [a, b]) < SAME_POINT_M) ||
    (t3 === 0 && distanceToSide(a, [c, d]) < SAME_POINT_M) ||
    (t4 === 0 && distanceToSide(b, [c, d]) < SAME_POINT_M)
  )
}

/** Drops repeated corners and corners in the middle of a straight side. */
export function tidy(ring: Ring): Point[] {
  const distinct = ring.filter((p, i) => distance(p, ring[(i + ring.length - 1) % ring.length] ?? p) > SAME_POINT_M || ring.length === 1)
  return distinct.filter((p, i) => {
    const before = distinct[(i + distinct.length - 1) % distinct.length] ?? p
    const after = distinct[(i + 1) % distinct.length] ?? p
    return Math.abs(turn(before, p, after)) > 1e-9
  })
}
