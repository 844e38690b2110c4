/** Where a plan lies on the screen: metres to drawing units and back, and a scale bar that people can read. No DOM. */
import { boundsOf, type Box, type Point } from './geometry'

export interface Frame {
  readonly box: Box
  readonly scale: number
  readonly width: number
  readonly height: number
  readonly originX: number
  readonly originY: number
}

/** Fits the points into `width` drawing units, keeping true scale, at most `maxHeight` high, with a margin for dimensions. */
export function frameFor(points: readonly Point[], width: number, maxHeight: number, margin: number): Frame {
  const box = boundsOf(points)
  const wide = Math.max(box.maxX - box.minX, 0.1)
  const high = Math.max(box.maxY - box.minY, 0.1)
  const scale = Math.min((width - 2 * margin) / wide, (maxHeight - 2 * margin) / high)
  const height = Math.max(high * scale + 2 * margin, 4 * margin)
  return { box, scale, width, height, originX: (width - wide * scale) / 2, originY: (height - high * scale) / 2 }
}

export function toScreen(frame: Frame, [x, y]: Point): Point {
  return [frame.originX + (x - frame.box.minX) * frame.scale, frame.originY + (frame.box.maxY - y) * frame.scale]
}

/** The spot on the plan under a drawing position, to the centimetre [m]. */
export function toPlan(frame: Frame, [sx, sy]: Point): Point {
  const x = frame.box.minX + (sx - frame.originX) / frame.scale
  const y = frame.box.maxY - (sy - frame.originY) / frame.scale
  return [Math.round(x * 100) / 100, Math.round(y * 100) / 100]
}

export const METRES_PER_FOOT = 0.3048

export interface ScaleBar {
  readonly value: number
  readonly unit: 'ft' | 'm'
  readonly length: number
}

/** The longest round bar (1, 2, 5, 10… feet or metres) that stays within `most` drawing units. */
export function scaleBar(frame: Frame, system: 'us' | 'metric', most: number): ScaleBar {
  const metre = system === 'us' ? METRES_PER_FOOT : 1
  const steps = [0.5, 1, 2, 5, 10, 20, 50, 100, 200]
  const fitting = steps.filter((step) => step * metre * frame.scale <= most)
  const value = fitting[fitting.length - 1] ?? 0.5
  return { value, unit: system === 'us' ? 'ft' : 'm', length: value * metre * frame.scale }
}

/** Moves a spot by arrow key, a foot or 25 cm at a time (a tenth of that with `fine`); undefined for other keys. */
export function nudge([x, y]: Point, key: string, system: 'us' | 'metric', fine: boolean): Point | undefined {
  const step = (system === 'us' ? METRES_PER_FOOT : 0.25) * (fine ? 0.1 : 1)
  const moves: Record<string, Point> = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, step], ArrowDown: [0, -step] }
  const move = moves[key]
  return move ? [Math.round((x + move[0]) * 1000) / 1000, Math.round((y + move[1]) * 1000) / 1000] : undefined
}

/** Where a side's dimension is written: its middle, pushed outward from the slab, and the angle that reads upright [degrees]. */
export function dimensionPlace(frame: Frame, a: Point, b: Point, counterClockwise: boolean, away: number): { readonly at: Point; readonly angle_deg: number } {
  const [p, q] = [toScreen(frame, a), toScreen(frame, b)]
  const length = Math.hypot(q[0] - p[0], q[1] - p[1]) || 1
  // Heading along the side, the outside of a counter-clockwise ring lies to the right: (−dy, dx) with y running down.
  const side = counterClockwise ? 1 : -1
  const out: Point = [(-side * (q[1] - p[1])) / length, (side * (q[0] - p[0])) / length]
  const raw = (Math.atan2(q[1] - p[1], q[0] - p[0]) * 180) / Math.PI
  const angle_deg = raw > 90 ? raw - 180 : raw <= -90 ? raw + 180 : raw
  return { at: [(p[0] + q[0]) / 2 + out[0] * away, (p[1] + q[1]) / 2 + out[1] * away], angle_deg }
}

/** A dragged spot on a grid coarse enough for a finger: 3 in or 5 cm. */
export function snap([x, y]: Point, system: 'us' | 'metric'): Point {
  const step = system === 'us' ? METRES_PER_FOOT / 4 : 0.05
  const near = (value: number): number => Math.round(Math.round(value / step) * step * 1e4) / 1e4
  return [near(x), near(y)]
}
