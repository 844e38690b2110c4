/** Bays on a slab: cutting the outline into bays and naming them. No DOM. */
import { reentrantCorners } from '../../shared/polygon'
import { area, distance, type Point, type Ring } from './geometry'
import { longDirection, splitByWeight } from './split'

export interface DraftBay {
  readonly label: string
  readonly corners: Point[]
  readonly area_m2: number
  /** Position of the strip in pour order, from 0. */
  readonly strip: number
}

export interface SplitPlan {
  /** One share per bay: 1, 1, 1 for equal areas, or the loads' volumes. */
  readonly weights: readonly number[]
  /** Pour from the other end. */
  readonly reversed?: boolean
  /** Cut along the long direction instead of across it. */
  readonly lengthwise?: boolean
}

/** Bays A, B, C… in pour order; a strip in several pieces gives A1, A2. */
export function draftBays(outline: Ring, plan: SplitPlan): DraftBay[] {
  const { direction } = longDirection(outline)
  const along: Point = plan.lengthwise ? [-direction[1], direction[0]] : direction
  const cut: Point = plan.reversed ? [-along[0], -along[1]] : along
  return splitByWeight(outline, plan.weights, cut).flatMap((pieces, strip) =>
    pieces.map((piece, i) => ({
      label: bayName(strip) + (pieces.length > 1 ? String(i + 1) : ''),
      corners: piece.map(([x, y]) => [millimetres(x), millimetres(y)] as const),
      area_m2: area(piece),
      strip,
    })),
  )
}

/** A…Z, then AA, AB… */
export function bayName(index: number): string {
  const letter = String.fromCharCode(65 + (index % 26))
  return index < 26 ? letter : bayName(Math.floor(index / 26) - 1) + letter
}

function millimetres(value_m: number): number {
  return Math.round(value_m * 1000) / 1000
}

/** Which load fills which strip: one to one where the counts agree, else in order by volume. */
export function loadForStrip(strip: number, strips: number, loads: readonly string[]): string | undefined {
  if (loads.length === 0) return undefined
  return loads[Math.min(loads.length - 1, Math.floor((strip * loads.length) / strips))]
}

export interface PanelAdvice {
  readonly bay: string
  readonly long_m: number
  readonly short_m: number
  readonly aspect: number
  readonly reentrant: number
}

/** Size and shape of a bay as a panel between joints. */
export function panelOf(label: string, corners: Ring): PanelAdvice {
  const { length_m, width_m } = longDirection(corners)
  const aspect = width_m > 0 ? length_m / width_m : Infinity
  return { bay: label, long_m: length_m, short_m: width_m, aspect, reentrant: reentrantCorners(corners).length }
}

/** Length of line that bays share inside the slab [m]: the joints drawn by the bays themselves. */
export function sharedLength(bays: readonly Ring[], outline: Ring): number {
  const rims = bays.reduce((sum, ring) => sum + rim(ring), 0)
  return Math.max(0, (rims - rim(outline)) / 2)
}

function rim(ring: Ring): number {
  return ring.reduce((sum, p, i) => sum + distance(p, ring[(i + 1) % ring.length] ?? p), 0)
}
