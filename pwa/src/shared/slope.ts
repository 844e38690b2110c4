/**
 * Fall of a slab from level shots: a least-squares plane, its direction, and low spots. A rod reading is larger where
 * the ground is lower, so height is minus the reading, from any datum. The server's twin reads the same vectors.
 */
import type { Spot } from './events'

/** x, y on the plan and the rod reading [m]. */
export type Shot = readonly [x: number, y: number, reading: number]

/** Height = rise_x·(x − x0) + rise_y·(y − y0) + height0 [m]; rises in m/m. */
export interface Plane {
  readonly rise_x: number
  readonly rise_y: number
  readonly x0: number
  readonly y0: number
  readonly height0: number
  /** Steepest fall [%]. */
  readonly fall_percent: number
  /** Where water runs, degrees counter-clockwise from the plan's x axis, 0 to 360; null when flat. */
  readonly direction_deg: number | null
}

const FLAT_PERCENT = 1e-6

/** Least-squares plane through the shots; null for fewer than three or all in one line. */
export function fitPlane(shots: readonly Shot[]): Plane | null {
  if (shots.length < 3) return null
  const mean = (of: (shot: Shot) => number): number => sum(shots, of) / shots.length
  const x0 = mean(([x]) => x)
  const y0 = mean(([, y]) => y)
  const height0 = mean(([, , reading]) => -reading)
  const xx = sum(shots, ([x]) => (x - x0) ** 2)
  const yy = sum(shots, ([, y]) => (y - y0) ** 2)
  const xy = sum(shots, ([x, y]) => (x - x0) * (y - y0))
  const determinant = xx * yy - xy * xy
  if (determinant <= 1e-9 * (xx + yy) ** 2) return null
  const xh = sum(shots, ([x, , reading]) => (x - x0) * (-reading - height0))
  const yh = sum(shots, ([, y, reading]) => (y - y0) * (-reading - height0))
  return planeOf((xh * yy - yh * xy) / determinant, (yh * xx - xh * xy) / determinant, x0, y0, height0)
}

function planeOf(rise_x: number, rise_y: number, x0: number, y0: number, height0: number): Plane {
  const fall_percent = 100 * Math.sqrt(rise_x ** 2 + rise_y ** 2)
  const degrees = (Math.atan2(-rise_y, -rise_x) * 180) / Math.PI
  const direction_deg = fall_percent < FLAT_PERCENT ? null : (degrees + 360) % 360
  return { rise_x, rise_y, x0, y0, height0, fall_percent, direction_deg }
}

/** Height of the plane at a point [m], from the rod's datum (minus the reading). */
export function heightAt(plane: Plane, x: number, y: number): number {
  return plane.rise_x * (x - plane.x0) + plane.rise_y * (y - plane.y0) + plane.height0
}

/** Unit vector square to a side (corner to next corner), pointing into the slab. */
export function awayFrom(corners: readonly Spot[], edge: number): Spot {
  const [hereX, hereY] = cornerAt(corners, edge)
  const [thereX, thereY] = cornerAt(corners, edge + 1)
  const [alongX, alongY] = [thereX - hereX, thereY - hereY]
  const length = Math.sqrt(alongX ** 2 + alongY ** 2)
  const turn = isCounterClockwise(corners) ? 1 : -1
  return [(-turn * alongY) / length, (turn * alongX) / length]
}

/** Fall square to a side and away from it [%]; negative when water runs toward it. */
export function fallAwayPercent(plane: Plane, corners: readonly Spot[], edge: number): number {
  const [awayX, awayY] = awayFrom(corners, edge)
  return -100 * (plane.rise_x * awayX + plane.rise_y * awayY)
}

/** How far a shot lies below the plane [m]; negative above it. */
export function belowPlane_m(plane: Plane, [x, y, reading]: Shot): number {
  return heightAt(plane, x, y) + reading
}

function sum(shots: readonly Shot[], of: (shot: Shot) => number): number {
  return shots.reduce((total, shot) => total + of(shot), 0)
}

function cornerAt(corners: readonly Spot[], index: number): Spot {
  const corner = corners[index % corners.length]
  if (!corner) throw new RangeError('an outline needs corners')
  return corner
}

function isCounterClockwise(corners: readonly Spot[]): boolean {
  const [x0, y0] = cornerAt(corners, 0)
  let total = 0
  corners.forEach(([x, y], index) => {
    const [nextX, nextY] = cornerAt(corners, index + 1)
    total += (x - x0) * (nextY - y0) - (nextX - x0) * (y - y0)
  })
  return total > 0
}
