/** Surface checks, release coverage and the touch-up pass. SI; no DOM. */
import type { Bay, Check, CheckKind, JobView, Load, Pin } from '../../../shared/job'
import { contains } from '../../plan/geometry'
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

/** Footprint depths offered as keys [mm]: none, 1/8, 1/4, 1/2, 3/4 and 1 in; 6 mm stands for the quarter inch of the trade. */
export const FOOTPRINTS_MM = [25, 19, 13, 6, 3, 0] as const

/** Thumb marks offered as keys [mm]: a dent of a quarter inch, a light mark, none (common practice, no source). */
export const THUMBS_MM = [6, 2, 0] as const

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

export interface BayPass {
  readonly bay: Bay
  /** Open pins in it, debris apart. */
  readonly open: number
}

/** The touch-up pass bay by bay: those with pins open or not walked yet; done ones are passed by. */
export function bayPasses(job: Pick<JobView, 'bays' | 'pins'>): BayPass[] {
  const open = job.pins.filter((pin) => pin.open && isFinishPin(pin))
  return job.bays.map((bay) => ({ bay, open: open.filter((pin) => pin.bay === bay.id || (pin.bay === null && contains(bay.corners, pin.spot))).length })).filter((pass) => pass.open > 0 || !pass.bay.steps.touch_up?.end)
}

/** Debris is picked up during the pour; the rest is the touch-up pass. */
export const isFinishPin = (pin: Pick<Pin, 'what'>): boolean => pin.what !== 'debris'
