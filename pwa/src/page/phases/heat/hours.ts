/** How hot the hours ahead feel, and what they ask of the crew. SI; no DOM. */
import type { JobView } from '../../../shared/job'
import type { Felt, Timeline } from '../../sync/contract'

const HOUR_MS = 3_600_000
const AHEAD_MS = 12 * HOUR_MS
const SHOWN = 8
const celsius = (fahrenheit: number): number => (fahrenheit - 32) / 1.8

/** From this heat on, a word is due (80 °F, where the heat index table of the US National Weather Service begins). */
export const WARM_C = celsius(80)
/** Tiers of the heat index: OSHA, Using the Heat Index: A Guide for Employers. */
const TIERS: readonly (readonly [least_c: number, HeatLevel])[] = [[celsius(115), 'extreme'], [celsius(103), 'high'], [celsius(91), 'moderate'], [-Infinity, 'lower']]

export type HeatLevel = 'lower' | 'moderate' | 'high' | 'extreme'
/** Screeding is heavy work, mats and edges are moderate (NIOSH's own examples are shovelling and hand tools). */
export type Effort = 'moderate' | 'heavy'

export interface HeatHour {
  readonly at: Date
  readonly air_temp_c: number
  readonly feels_c: number
  readonly level: HeatLevel
  /** Minutes of work before a rest fills the hour; 60 = none asked for, 0 = past the chart. */
  readonly work_min: number
}

export function levelOf(feels_c: number): HeatLevel {
  // to the whole degree Fahrenheit, as the tiers and the screen are read
  const read_c = celsius(Math.round(feels_c * 1.8 + 32))
  return TIERS.find(([least_c]) => read_c >= least_c - 1e-9)?.[1] ?? 'lower'
}

/** This hour and the next ones; nothing where the weather told does not reach. */
export function heatHours(felt: Felt | null | undefined, now: Date, effort: Effort): HeatHour[] {
  if (!felt) return []
  const first = Date.parse(felt.from)
  const minutes = effort === 'heavy' ? felt.heavy_min : felt.moderate_min
  return felt.feels_c
    .map((feels_c, i) => ({ at: new Date(first + i * HOUR_MS), air_temp_c: felt.air_temp_c[i] ?? feels_c, feels_c, level: levelOf(feels_c), work_min: minutes[i] ?? 60 }))
    .filter(({ at }) => at.getTime() > now.getTime() - HOUR_MS)
    .slice(0, SHOWN)
}

/** The hour that asks most of the crew. */
export function hottest(hours: readonly HeatHour[]): HeatHour | null {
  return hours.reduce<HeatHour | null>((worst, one) => (!worst || one.feels_c > worst.feels_c ? one : worst), null)
}

/** Whether heat asks for care within the next hours: the engine or the hours say so, or it was read on the slab, or nobody knows. */
export function heatAsks(job: Pick<JobView, 'weather_notes'>, timeline: Timeline | null, moment: Date, hours: readonly HeatHour[] = []): boolean {
  const note = job.weather_notes[job.weather_notes.length - 1]
  if (note && note.air_temp_c !== null && note.air_temp_c >= WARM_C && moment.getTime() - Date.parse(note.at) < AHEAD_MS) return true
  if (hours.some(({ feels_c, work_min }) => feels_c >= WARM_C || work_min < 60)) return true
  if (!timeline) return hours.length === 0
  return timeline.warnings.some(({ code, from, to }) => code === 'heat_stress' && Date.parse(to) > moment.getTime() && Date.parse(from) < moment.getTime() + AHEAD_MS)
}
