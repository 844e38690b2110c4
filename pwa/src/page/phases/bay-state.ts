/** What each bay's concrete is at, from the log and the last outlook. No DOM. */
import type { BayId } from '../../shared/events'
import type { Bay, JobView, MarkName, StepName } from '../../shared/job'
import { stateWord } from '../look/tide/window'
import type { BayState } from '../plan/parts'
import type { Timeline, TimeWindow } from '../sync/contract'
import { POUR_STEPS, stepState, TEXTURE_STEPS } from './steps'

/** All that is done to a bay, in the order of the trade. */
export const BAY_STEPS: readonly StepName[] = [...POUR_STEPS, ...TEXTURE_STEPS]

export interface NextStep {
  readonly step: StepName
  readonly mark: MarkName
}

/** What one touch on a bay does: ends the running step, else starts the one after the last that was begun. Null when all are done. */
export function nextStep(bay: Pick<Bay, 'steps'>, steps: readonly StepName[]): NextStep | null {
  const states = steps.map((step) => stepState(bay, step))
  const running = steps[states.indexOf('running')]
  if (running) return { step: running, mark: 'end' }
  const step = steps[states.lastIndexOf('done') + 1]
  return step ? { step, mark: 'start' } : null
}

/** The clock a step answers to; null for steps that follow the strike-off or the mats at once. Release goes down just before the mats, so it keeps theirs. */
export function stepWindow(timeline: Timeline | null, load: string | null, step: StepName): TimeWindow | null {
  const windows = timeline?.loads.find((one) => one.id === load)?.windows
  if (step === 'edge') return windows?.edge ?? null
  if (step === 'mag') return windows?.mag ?? windows?.edge ?? null
  return step === 'release' || step === 'texture' ? (windows?.texture ?? null) : null
}

export function textureWindow(timeline: Timeline | null, load: string | null): TimeWindow | null {
  return timeline?.loads.find((one) => one.id === load)?.windows.texture ?? null
}

/**
 * Planned windows say nothing about concrete that has not come: only placed bays have a word. With `steps`, the word is
 * that of the step a touch would start or end; else that of the texture.
 */
export function bayStates(job: Pick<JobView, 'bays' | 'loads'>, timeline: Timeline | null, now: Date, steps: readonly StepName[] = []): Map<BayId, BayState> {
  return new Map(job.bays.map((bay) => [bay.id, bayState(bay, job, timeline, now, steps)]))
}

function bayState(bay: Bay, job: Pick<JobView, 'loads'>, timeline: Timeline | null, now: Date, steps: readonly StepName[]): BayState {
  if (bay.steps.texture?.end) return 'textured'
  const placed = job.loads.find((load) => load.id === bay.load)?.placed
  if (!placed && !bay.steps.strike_off) return 'empty'
  const next = nextStep(bay, steps)
  const window = next ? stepWindow(timeline, bay.load, next.step) : textureWindow(timeline, bay.load)
  return window ? stateWord(now, window) : 'placed'
}
