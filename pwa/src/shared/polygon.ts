/** Plane geometry of outlines: area and perimeter. Metres. */
import type { Spot } from './events'

/** Area inside a simple polygon [m²]. */
export function area_m2(corners: readonly Spot[]): number {
  const first = corners[0]
  if (!first) return 0
  const [x0, y0] = first
  let total = 0
  corners.forEach(([x, y], index) => {
    const [nextX, nextY] = corners[index + 1] ?? first
    total += (x - x0) * (nextY - y0) - (nextX - x0) * (y - y0)
  })
  return Math.abs(total) / 2
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
