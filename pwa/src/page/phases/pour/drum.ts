/** How long concrete may stay in the drum, and when this one will likely be empty. SI; no DOM. */
import { isDown, isPlacing, type LoggedLoad } from './fill'

/** Common practice, long the limit of ASTM C94 [min] (from memory, not verified; newer editions leave it to the purchaser). */
export const DRUM_LIMIT_MIN = 90
/** Shorter in warm air: 75 min over 85 °F, 60 min over 90 °F. Practice in specifications; the mix may set another. */
const WARM_AIR = [{ over_c: (90 - 32) / 1.8, limit_min: 60 }, { over_c: (85 - 32) / 1.8, limit_min: 75 }] as const
/** How long a load takes to place until this crew has shown its own pace [min/m³], and at least [min]. Estimates. */
const PLACE_MIN_PER_M3 = 4
const PLACE_LEAST_MIN = 10
const MINUTE_MS = 60_000
/** A reading of the air counts that long [ms]. */
const FRESH_MS = 3 * 3_600_000

export interface Drum {
  readonly limit_min: number
  /** usual: nobody set it. heat: shortened by warm air. mix: set on the mix. */
  readonly because: 'usual' | 'heat' | 'mix'
  /** The drum should be empty by then. */
  readonly by: Date
  /** When it will likely be empty. */
  readonly empty: Date
  readonly age_min: number
}

export interface DrumLimit {
  readonly limit_min: number
  readonly because: Drum['because']
}

/** The limit that holds: the mix's own, else the usual one, shorter in warm air. */
export function drumLimit(set_min: number | null | undefined, air_c: number | null): DrumLimit {
  if (typeof set_min === 'number') return { limit_min: set_min, because: 'mix' }
  const warm = WARM_AIR.find(({ over_c }) => air_c !== null && air_c > over_c)
  return warm ? { limit_min: warm.limit_min, because: 'heat' } : { limit_min: DRUM_LIMIT_MIN, because: 'usual' }
}

/** Minutes to place one cubic metre: as the loads so far went, else the usual. */
export function placingPace(loads: readonly LoggedLoad[]): number {
  const done = loads.filter(isDown)
  const minutes = done.reduce((sum, { placed }) => sum + (placed ? (Date.parse(placed.to) - Date.parse(placed.from)) / MINUTE_MS : 0), 0)
  const volume_m3 = done.reduce((sum, load) => sum + load.volume_m3, 0)
  // A start and an end touched in one go say nothing about the pace.
  return volume_m3 > 0 && minutes / volume_m3 > 0.5 ? minutes / volume_m3 : PLACE_MIN_PER_M3
}

/** How long the placing of that volume takes at that pace [min]. */
export function placingMinutes(volume_m3: number, pace: number): number {
  return Math.max(PLACE_LEAST_MIN, volume_m3 * pace)
}

interface InDrum {
  readonly batched_at: string
  readonly volume_m3: number
  readonly placed?: LoggedLoad['placed']
}

export function drumOf(load: InDrum, limit: DrumLimit, pace: number, now: Date): Drum {
  const batched = Date.parse(load.batched_at)
  const begun = load.placed && isPlacing(load) ? Date.parse(load.placed.from) : now.getTime()
  const empty = Math.max(now.getTime(), begun + placingMinutes(load.volume_m3, pace) * MINUTE_MS)
  return {
    ...limit,
    by: new Date(batched + limit.limit_min * MINUTE_MS),
    empty: new Date(empty),
    age_min: (now.getTime() - batched) / MINUTE_MS,
  }
}

/** The air as last read on the slab, while that is fresh. */
export function airNow(notes: readonly { readonly at: string; readonly air_temp_c: number | null }[], now: Date): number | null {
  const read = notes.filter((note) => note.air_temp_c !== null && Math.abs(now.getTime() - Date.parse(note.at)) < FRESH_MS)
  return read[read.length - 1]?.air_temp_c ?? null
}
