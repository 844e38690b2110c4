/** Editing a slab's outline: as corners, as a walk of lengths and turns, or from a rectangle. No DOM. */
import { area, crossingSides, distance, SAME_POINT_M, sides, turn, type Point, type Ring } from './geometry'

/** One leg of a walk round the slab: go `length_m`, then turn left by `turn_deg` (right is negative). */
export interface Leg {
  readonly length_m: number
  readonly turn_deg: number
}

export type OutlineFault = 'too_few' | 'same_corner' | 'crosses' | 'no_area' | 'too_large'

export interface OutlineVerdict {
  readonly fault: OutlineFault | null
  /** The corners or sides concerned, counted from 1 for people. */
  readonly at: readonly number[]
}

/** Longer than any slab a crew of six pours in a day [m]; a slipped decimal is likelier. */
export const LONGEST_SIDE_M = 200

export function judgeOutline(corners: Ring): OutlineVerdict {
  if (corners.length < 3) return { fault: 'too_few', at: [] }
  const twin = sides(corners).findIndex(([a, b]) => distance(a, b) < SAME_POINT_M)
  if (twin >= 0) return { fault: 'same_corner', at: [twin + 1, ((twin + 1) % corners.length) + 1] }
  if (inOneLine(corners)) return { fault: 'no_area', at: [] }
  const crossed = crossingSides(corners)
  if (crossed) return { fault: 'crosses', at: [crossed[0] + 1, crossed[1] + 1] }
  if (area(corners) < 0.01) return { fault: 'no_area', at: [] }
  const long = sides(corners).findIndex(([a, b]) => distance(a, b) > LONGEST_SIDE_M)
  return long >= 0 ? { fault: 'too_large', at: [long + 1] } : { fault: null, at: [] }
}

function inOneLine(corners: Ring): boolean {
  const [a, b] = [corners[0], corners[1]]
  return !!a && !!b && corners.every((c) => Math.abs(turn(a, b, c)) < 1e-9)
}

export function rectangle(length_m: number, width_m: number): Point[] {
  return [[0, 0], [length_m, 0], [length_m, width_m], [0, width_m]]
}

/** Corners of a walk that starts at the origin and heads right. The leg back to the start is left out of the corners. */
export function cornersOf(legs: readonly Leg[]): { readonly corners: Point[]; readonly gap_m: number } {
  let at: Point = [0, 0]
  let heading = 0
  const corners: Point[] = []
  for (const leg of legs) {
    corners.push(at)
    at = [at[0] + leg.length_m * Math.cos(heading), at[1] + leg.length_m * Math.sin(heading)]
    heading += (leg.turn_deg * Math.PI) / 180
  }
  return { corners: corners.map(roundOff), gap_m: distance(at, [0, 0]) }
}

/** The walk that traces these corners, turns between −180 and 180 degrees. */
export function legsOf(corners: Ring): Leg[] {
  const all = sides(corners)
  return all.map(([a, b], i) => {
    const [, c] = all[(i + 1) % all.length] ?? [b, b]
    const out = Math.atan2(b[1] - a[1], b[0] - a[0])
    const on = Math.atan2(c[1] - b[1], c[0] - b[0])
    const bent = ((on - out) * 180) / Math.PI
    return { length_m: distance(a, b), turn_deg: Math.round((((bent + 540) % 360) - 180) * 1000) / 1000 }
  })
}

/** Half a tenth of a millimetre is noise from angles. */
function roundOff([x, y]: Point): Point {
  return [Math.round(x * 1e4) / 1e4, Math.round(y * 1e4) / 1e4]
}

export function moveCorner(corners: Ring, index: number, to: Point): Point[] {
  return corners.map((p, i) => (i === index ? roundOff(to) : p))
}

/** A new corner halfway along the side that starts at `index`. */
export function addCorner(corners: Ring, index: number): Point[] {
  const a = corners[index]
  const b = corners[(index + 1) % corners.length]
  if (!a || !b) return [...corners]
  const middle = roundOff([(a[0] + b[0]) / 2, (a[1] + b[1]) / 2])
  return [...corners.slice(0, index + 1), middle, ...corners.slice(index + 1)]
}

export function removeCorner(corners: Ring, index: number): Point[] {
  return corners.length <= 3 ? [...corners] : corners.filter((_, i) => i !== index)
}

/**
 * Sets one side's length. Where the sides before and after the next one run parallel (square work), the next side is
 * pushed out as a whole, so that every angle stays; elsewhere only the far corner moves.
 */
export function stretchSide(corners: Ring, index: number, length_m: number): Point[] {
  const n = corners.length
  const [a, b] = [corners[index], corners[(index + 1) % n]]
  const [c, d] = [corners[(index + 2) % n], corners[(index + 3) % n]]
  if (!a || !b || !c || !d || distance(a, b) < SAME_POINT_M) return [...corners]
  const grow = length_m / distance(a, b) - 1
  const shift: Point = [(b[0] - a[0]) * grow, (b[1] - a[1]) * grow]
  const parallel = Math.abs((b[0] - a[0]) * (d[1] - c[1]) - (b[1] - a[1]) * (d[0] - c[0])) < 1e-6 * distance(a, b) * distance(c, d)
  const moving = parallel && n > 3 ? [(index + 1) % n, (index + 2) % n] : [(index + 1) % n]
  return corners.map((p, i) => (moving.includes(i) ? roundOff([p[0] + shift[0], p[1] + shift[1]]) : p))
}

/** An abutting face (corner i to i + 1) as the log keeps it. */
export interface Abutting {
  readonly edge: number
  readonly against: string
  /** Cast against it without isolation. */
  readonly bonded?: boolean | null
}

/** Faces after a corner was added in side `index`: both halves keep standing against the same thing. */
export function abuttingAfterAdd(faces: readonly Abutting[], index: number): Abutting[] {
  return faces.flatMap((face) => {
    if (face.edge < index) return [face]
    if (face.edge > index) return [{ ...face, edge: face.edge + 1 }]
    return [face, { ...face, edge: index + 1 }]
  })
}

/** Faces after corner `index` was removed: the two sides that met there become one, kept as a face if either was. */
export function abuttingAfterRemove(faces: readonly Abutting[], index: number, cornerCount: number): Abutting[] {
  const merged = (index + cornerCount - 1) % cornerCount
  const moved = faces.map((face) => {
    const edge = face.edge === index ? merged : face.edge
    return { ...face, edge: edge > index ? edge - 1 : edge }
  })
  return moved.filter((face, i) => moved.findIndex((other) => other.edge === face.edge) === i)
}
