/** How amounts are shown and typed in each system. SI inside; no DOM. */
import { cubicMetresPerYard, formatLength, metresPerFoot, metresPerInch, metresPerMile, squareMetresPerFoot } from '../../shared/units'
import type { UnitSystem } from '../shell/preferences'

export interface Shown {
  readonly unit: string
  readonly decimals: number
  readonly step: number
  /** shown = si · factor + offset */
  readonly factor: number
  readonly offset: number
  /** Shown to the nearest of these: sixteenths of an inch, as a tape reads. */
  readonly grain?: number
}

const SIXTEENTH = 1 / 16
const millimetresPerInch = metresPerInch * 1_000
const kilometresPerMile = metresPerMile / 1_000
const litresPerGallon = 3.785411784

const plain = (unit: string, factor: number, decimals: number, step: number, offset = 0): Shown => ({ unit, factor, decimals, step, offset })

const TABLE = {
  volume: { us: plain('yd³', 1 / cubicMetresPerYard, 2, 0.25), metric: plain('m³', 1, 2, 0.25) },
  temp: { us: plain('°F', 1.8, 0, 1, 32), metric: plain('°C', 1, 0, 1) },
  thickness: { us: { ...plain('in', 1 / metresPerInch, 4, 0.5), grain: SIXTEENTH }, metric: plain('mm', 1000, 0, 5) },
  slump: { us: plain('in', 1 / millimetresPerInch, 2, 0.5), metric: plain('mm', 1, 0, 10) },
  depth: { us: { ...plain('in', 1 / metresPerInch, 4, 0.125), grain: SIXTEENTH }, metric: plain('mm', 1000, 0, 5) },
  footprint: { us: { ...plain('in', 1 / millimetresPerInch, 4, 0.0625), grain: SIXTEENTH }, metric: plain('mm', 1, 0, 1) },
  water: { us: plain('gal', 1 / litresPerGallon, 1, 1), metric: plain('l', 1, 0, 5) },
  speed: { us: plain('mph', 1 / kilometresPerMile, 0, 1), metric: plain('km/h', 1, 0, 2) },
  area: { us: plain('ft²', 1 / squareMetresPerFoot, 0, 10), metric: plain('m²', 1, 1, 1) },
  mat: { us: plain('ft²', 1 / squareMetresPerFoot, 1, 0.5), metric: plain('m²', 1, 2, 0.05) },
  mass: { us: plain('lb', 1 / 0.45359237, 0, 1), metric: plain('kg', 1, 1, 1) },
  cement: { us: plain('lb/yd³', 1.685554936, 0, 10), metric: plain('kg/m³', 1, 0, 10) },
  strength: { us: plain('psi', 145.0377377, 0, 500), metric: plain('MPa', 1, 1, 1) },
  insulation: { us: plain('R (ft²·°F·h/BTU)', 5.678263337, 1, 1), metric: plain('m²K/W', 1, 2, 0.1) },
  rate: { us: plain('ft/min', 1 / metresPerFoot, 1, 0.5), metric: plain('m/min', 1, 2, 0.1) },
  share: { us: plain('%', 100, 0, 5), metric: plain('%', 100, 0, 5) },
  spread: { us: plain('°F', 1.8, 0, 1), metric: plain('°C', 1, 0, 1) },
  coverage: { us: plain('ft²/gal', litresPerGallon / squareMetresPerFoot, 0, 10), metric: plain('m²/l', 1, 1, 0.5) },
  sealer: { us: plain('gal', 1 / litresPerGallon, 1, 0.5), metric: plain('l', 1, 1, 1) },
} as const

export type Quantity = keyof typeof TABLE

export function shownAs(quantity: Quantity, system: UnitSystem): Shown {
  return TABLE[quantity][system]
}

export function toShown(si: number, { factor, offset }: Shown): number {
  return si * factor + offset
}

/** As shown, to the grain where there is one: 0.115 m reads 4.5 in. */
export function rounded(si: number, shown: Shown): number {
  const value = toShown(si, shown)
  return shown.grain === undefined ? value : Math.round(value / shown.grain) * shown.grain
}

/** Back to SI; 9 significant digits, so that 4 in stays 4 in and the log holds no float dust. */
export function toSi(value: number, { factor, offset }: Shown): number {
  return Number(((value - offset) / factor).toPrecision(9))
}

/** The number and its unit, as people say it. */
export function say(si: number, quantity: Quantity, system: UnitSystem): string {
  const shown = shownAs(quantity, system)
  return `${Number(rounded(si, shown).toFixed(shown.decimals))}\u00a0${shown.unit}`
}

/** A small length as people say it on a slab: feet and inches, or whole millimetres. */
export function sayShort(length_m: number, system: UnitSystem): string {
  return system === 'us' ? formatLength(length_m, 'us') : `${Math.round(length_m * 1000)}\u00a0mm`
}

/** A run of cuts as people say it: whole inches, or centimetres. */
export function sayRun(length_m: number, system: UnitSystem): string {
  const grain_m = system === 'us' ? metresPerInch : 0.01
  return formatLength(Math.round(length_m / grain_m) * grain_m, system)
}
