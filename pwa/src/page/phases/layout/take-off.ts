/** Volume, loads and joints from a slab's outline. SI in, SI out; no DOM. */
import { reentrantCorners } from '../../../shared/polygon'
import { panelOf, type PanelAdvice } from '../../plan/bays'
import { area, perimeter, type Ring } from '../../plan/geometry'

const CUBIC_METRES_PER_CUBIC_YARD = 0.764554857984
const METRES_PER_INCH = 0.0254

/** Share ordered on top of the neat volume. 5 to 10 % is an estimate; a company sets its own. */
export const USUAL_WASTE = 0.07

/** What trucks carry, full and least worth sending [m³]: 11, 8 and 4 yd³, estimates a company sets for its plant. */
export const TRUCK_FULL_M3 = 11 * CUBIC_METRES_PER_CUBIC_YARD
export const TRUCK_LEAST_M3 = 8 * CUBIC_METRES_PER_CUBIC_YARD
export const SHORT_LOAD_M3 = 4 * CUBIC_METRES_PER_CUBIC_YARD

export interface TakeOff {
  readonly area_m2: number
  readonly perimeter_m: number
  readonly neat_m3: number
  readonly ordered_m3: number
}

/** Ordered volume is rounded up to `step_m3` (a quarter yard, a quarter cubic metre). */
export function takeOff(outline: Ring, thickness_m: number, waste: number, step_m3: number): TakeOff {
  const neat_m3 = area(outline) * thickness_m
  return {
    area_m2: area(outline),
    perimeter_m: perimeter(outline),
    neat_m3,
    ordered_m3: Math.ceil((neat_m3 * (1 + waste)) / step_m3 - 1e-9) * step_m3,
  }
}

export type LoadNote = 'even' | 'light' | 'short'

export interface LoadOption {
  readonly loads: number
  readonly each_m3: number
  /** Even: a well-filled truck. Light: under it, dearer. Short: under the usual short-load fee. */
  readonly note: LoadNote
}

/** Equal loads keep colour and slump equal from bay to bay: the fewest that fit the truck, and the next two choices. */
export function loadOptions(volume_m3: number, truck_m3: number = TRUCK_FULL_M3): LoadOption[] {
  if (!(volume_m3 > 0) || !(truck_m3 > 0)) return []
  const fewest = Math.ceil(volume_m3 / truck_m3 - 1e-9)
  return [0, 1, 2].map((more) => {
    const each_m3 = volume_m3 / (fewest + more)
    const note: LoadNote = each_m3 < SHORT_LOAD_M3 ? 'short' : each_m3 < TRUCK_LEAST_M3 ? 'light' : 'even'
    return { loads: fewest + more, each_m3, note }
  })
}

export interface JointGuidance {
  /** A quarter of the thickness, at least an inch (ACI 327R-14; the inch from memory, not verified). */
  readonly depth_m: number
  /** Early-entry saws: an inch in slabs to 9 in (trade guidance), a quarter of the thickness beyond. */
  readonly early_entry_depth_m: number
  /** 24 to 36 times the thickness, never over 18 ft (ACI 302.1R; PCA, Concrete Floors on Ground, 1983). */
  readonly spacing_least_m: number
  readonly spacing_most_m: number
}

export const ASPECT_MOST = 1.5
const SPACING_CAP_M = 18 * 12 * METRES_PER_INCH

export function jointGuidance(thickness_m: number): JointGuidance {
  return {
    depth_m: Math.max(thickness_m / 4, METRES_PER_INCH),
    early_entry_depth_m: thickness_m <= 9 * METRES_PER_INCH + 1e-9 ? METRES_PER_INCH : thickness_m / 4,
    spacing_least_m: Math.min(24 * thickness_m, SPACING_CAP_M),
    spacing_most_m: Math.min(36 * thickness_m, SPACING_CAP_M),
  }
}

export type PanelFlag = 'long' | 'slender' | 'reentrant'

export interface PanelCheck extends PanelAdvice {
  readonly flags: readonly PanelFlag[]
}

/** Which bays would need a joint of their own if each bay were one panel. */
export function checkPanels(bays: readonly { readonly label: string; readonly corners: Ring }[], thickness_m: number): PanelCheck[] {
  const { spacing_most_m } = jointGuidance(thickness_m)
  return bays.map(({ label, corners }) => {
    const panel = panelOf(label, corners)
    const flags: PanelFlag[] = []
    if (panel.long_m > spacing_most_m + 1e-6) flags.push('long')
    if (panel.aspect > ASPECT_MOST + 1e-6) flags.push('slender')
    if (reentrantCorners(corners).length > 0) flags.push('reentrant')
    return { ...panel, flags }
  })
}

/** Solar absorptivity by surface colour. Estimates a company can set; a wet surface takes up 0.05 to 0.10 more. */
export const SURFACE_COLOURS = [
  { word: 'white', solar_absorptivity: 0.3 },
  { word: 'buff', solar_absorptivity: 0.55 },
  { word: 'grey', solar_absorptivity: 0.62 },
  { word: 'tan', solar_absorptivity: 0.7 },
  { word: 'brown_red', solar_absorptivity: 0.78 },
  { word: 'charcoal', solar_absorptivity: 0.88 },
] as const

export type SurfaceColour = (typeof SURFACE_COLOURS)[number]['word']

/** The word nearest to a kept value. */
export function colourWord(solar_absorptivity: number): SurfaceColour {
  return SURFACE_COLOURS.reduce((best, one) =>
    Math.abs(one.solar_absorptivity - solar_absorptivity) < Math.abs(best.solar_absorptivity - solar_absorptivity) ? one : best,
  ).word
}

export interface WaterEffect {
  readonly litres_per_m3: number
  readonly w_cm_rise: number
}

/** What water added on site does to a load: the rise in water–cement ratio; each litre also lightens the colour. */
export function waterEffect(water_l: number, volume_m3: number, cement_kg_m3: number): WaterEffect {
  const litres_per_m3 = volume_m3 > 0 ? water_l / volume_m3 : 0
  return { litres_per_m3, w_cm_rise: cement_kg_m3 > 0 ? litres_per_m3 / cement_kg_m3 : 0 }
}

/** Plants sell by the quarter yard or the quarter cubic metre. */
export function orderStep(system: 'us' | 'metric'): number {
  return system === 'us' ? CUBIC_METRES_PER_CUBIC_YARD / 4 : 0.25
}
