/** What each bay's concrete is at, from the log and the last outlook. No DOM. */
import type { BayId } from '../../shared/events'
import type { Bay, JobView } from '../../shared/job'
import { stateWord } from '../look/tide/window'
import type { BayState } from '../plan/parts'
import type { Timeline, TimeWindow } from '../sync/contract'

export function textureWindow(timeline: Timeline | null, load: string | null): TimeWindow | null {
  return timeline?.loads.find((one) => one.id === load)?.windows.texture ?? null
}

/** Planned windows say nothing about concrete that has not come: only placed bays have a word. */
export function bayStates(job: Pick<JobView, 'bays' | 'loads'>, timeline: Timeline | null, now: Date): Map<BayId, BayState> {
  return new Map(job.bays.map((bay) => [bay.id, bayState(bay, job, timeline, now)]))
}

function bayState(bay: Bay, job: Pick<JobView, 'loads'>, timeline: Timeline | null, now: Date): BayState {
  if (bay.steps.texture?.end) return 'textured'
  const placed = job.loads.find((load) => load.id === bay.load)?.placed
  if (!placed && !bay.steps.strike_off) return 'empty'
  const window = textureWindow(timeline, bay.load)
  return window ? stateWord(now, window) : 'placed'
}
