/** What is done to bays, step by step. No DOM. */
import type { Bay, StepName } from '../../shared/job'

export const POUR_STEPS: readonly StepName[] = ['strike_off', 'bull_float']
export const TEXTURE_STEPS: readonly StepName[] = ['edge', 'mag', 'release', 'texture', 'touch_up']

export type StepState = 'open' | 'running' | 'done'

export function stepState(bay: Pick<Bay, 'steps'>, step: StepName): StepState {
  const marks = bay.steps[step]
  if (marks?.end && (!marks.start || marks.end.at >= marks.start.at)) return 'done'
  return marks?.start ? 'running' : 'open'
}

export interface BayStep {
  readonly bay: string
  readonly step: StepName
}

/** Everything going on right now. */
export function running(bays: readonly Bay[], steps: readonly StepName[]): BayStep[] {
  return bays.flatMap((bay) => steps.filter((step) => stepState(bay, step) === 'running').map((step) => ({ bay: bay.id, step })))
}

/** The bay most likely meant: one with a running step, else the first in order with an open one, else the last. */
export function bayInHand(bays: readonly Bay[], steps: readonly StepName[]): string | null {
  const busy = bays.find((bay) => steps.some((step) => stepState(bay, step) === 'running'))
  const next = bays.find((bay) => steps.some((step) => stepState(bay, step) !== 'done'))
  return (busy ?? next ?? bays[bays.length - 1])?.id ?? null
}
