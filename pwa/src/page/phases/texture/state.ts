/** Surface checks, release coverage and the touch-up pass. SI; no DOM. */
import type { Bay, Check, CheckKind, JobView, Load, Pin } from '../../../shared/job'
import type { TimeWindow } from '../../sync/contract'
import { textureWindow } from '../bay-state'
import type { Timeline } from '../../sync/contract'

/** Which load a check speaks of: the bay's, else the only one on the slab. Null when that can't be said. */
export function loadOf(job: Pick<JobView, 'loads' | 'bays'>, bay: string | null): Load | null {
  const filled = job.bays.find((one) => one.id === bay)?.load
  const known = job.loads.find((load) => load.id === filled)
  if (known) return known
  return job.loads.length === 1 ? (job.loads[0] ?? null) : null
}

/** Footprint depths offered as keys [mm]: 1/2, 3/8, 1/4, 1/8 in and no mark; 6 mm stands for the quarter inch of the trade. */
export const FOOTPRINTS_MM = [13, 10, 6, 3, 0] as const

/** What a check says in one word, for the line it stands in (6 mm or 1/4 in is the usual sign to begin; ASCC Position Statement 15). */
export function checkWord(check: Pick<Check, 'kind' | 'depth_mm'>): 'soft' | 'begin' | 'firm' {
  const words: Record<Exclude<CheckKind, 'footprint' | 'thumb'>, 'soft' | 'begin' | 'firm'> = { mat_sticks: 'soft', mat_clean: 'begin', mat_refused: 'firm' }
  if (check.kind !== 'footprint' && check.kind !== 'thumb') return words[check.kind]
  if (check.depth_mm === null) return 'begin'
  return check.depth_mm > 6.5 ? 'soft' : check.depth_mm >= 3 ? 'begin' : 'firm'
}

export interface BayClock {
  readonly bay: Bay
  readonly load: Load | null
  readonly window: TimeWindow | null
}

/** Bays in order with the window that their concrete keeps. */
export function bayClocks(job: Pick<JobView, 'loads' | 'bays'>, timeline: Timeline | null): BayClock[] {
  return job.bays.map((bay) => ({ bay, load: job.loads.find((load) => load.id === bay.load) ?? null, window: textureWindow(timeline, bay.load) }))
}

export interface ReleaseLine {
  readonly bay: Bay
  /** Minutes since release was laid; null while it is not. */
  readonly minutes: number | null
}

export function releaseLines(bays: readonly Bay[], now: Date): ReleaseLine[] {
  return bays.map((bay) => ({ bay, minutes: bay.release_at === null ? null : Math.max(0, Math.floor((now.getTime() - Date.parse(bay.release_at)) / 60_000)) }))
}

/** Powder laid per area [kg/m²]; 3 to 5 lb per 100 ft² is usual (estimate). */
export const RELEASE_KG_M2 = [0.146, 0.244] as const

export function usualRelease_kg(area_m2: number): readonly [number, number] {
  return [area_m2 * RELEASE_KG_M2[0], area_m2 * RELEASE_KG_M2[1]]
}

export interface PassStop {
  readonly bay: Bay | null
  readonly pins: readonly Pin[]
}

/** The touch-up walk: bays in order with their open pins (debris apart), then pins in no bay. Bays without work left are passed by. */
export function touchUpWalk(job: Pick<JobView, 'bays' | 'pins'>): PassStop[] {
  const open = job.pins.filter((pin) => pin.open && pin.what !== 'debris')
  const stops: PassStop[] = job.bays.map((bay) => ({ bay, pins: open.filter((pin) => pin.bay === bay.id) })).filter(({ bay, pins }) => pins.length > 0 || !bay.steps.touch_up?.end)
  const loose = open.filter((pin) => !job.bays.some((bay) => bay.id === pin.bay))
  return loose.length ? [...stops, { bay: null, pins: loose }] : stops
}
