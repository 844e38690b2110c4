/** Plane geometry of outlines: area and perimeter. Metres. */
import type { Spot } from './events'

/** Area inside a simple polygon [m²]. */
export function area_m2(corners: readonly Spot[]): number {
  return Math.abs(signedArea_m2(corners))
}

/** Area of a simple polygon [m²]; below zero where its corners run clockwise. */
function signedArea_m2(corners: readonly Spot[]): number {
  const first = corners[0]
  if (!first) return 0
  const [x0, y0] = first
  let total = 0
  corners.forEach(([x, y], index) => {
    const [nextX, nextY] = corners[index + 1] ?? first
    total += (x - x0) * (nextY - y0) - (nextX - x0) * (y - y0)
  })
  return total / 2
}

/** Length around a polygon [m]. */
export function perimeter_m(corners: readonly Spot[]): number {
  const first = corners[0]
  if (!first) return 0
  let total = 0
  corners.forEach(([x, y], index) => {
    const [nextX, nextY] = corners[index + 1] ?? first
    total += Math.sqrt((nextX - x) ** 2 + (nextY - y) ** 2)
  })
  return total
}

/** Length of some sides (corner i to the next) over the length around, 0..1. */
export function shareOfSides(corners: readonly Spot[], sides: readonly number[]): number {
  const around = perimeter_m(corners)
  let length = 0
  for (const side of [...new Set(sides)].sort((a, b) => a - b)) {
    const from = corners[side]
    const to = corners[side + 1] ?? corners[0]
    if (from && to) length += perimeter_m([from, to]) / 2
  }
  return around > 0 ? Math.min(1, length / around) : 0
}

/** Indices of the corners that turn inwards, inner angle above 180°: where cracks start. */
export function reentrantCorners(corners: readonly Spot[]): number[] {
  const way = signedArea_m2(corners) > 0 ? 1 : -1
  return corners.flatMap((here, index) => {
    const before = corners.at(index - 1) ?? here
    const after = corners[index + 1] ?? corners[0] ?? here
    const turn = (here[0] - before[0]) * (after[1] - here[1]) - (here[1] - before[1]) * (after[0] - here[0])
    return turn * way < -1e-9 ? [index] : []
  })
}
