import type { JobView, StepName } from '../../shared/job'
import { outlook } from '../sync/outlook'
import { now } from '../shell/now'
import { Plan, type PlanMark, type PlanProps } from '../plan/plan'
import { bayStates } from './bay-state'

export type JobPlanProps = Omit<PlanProps, 'outline' | 'abutting' | 'bays'> & {
  readonly job: JobView
  readonly marks?: readonly PlanMark[]
  /** Show what each bay's concrete is at. */
  readonly states?: boolean
  /** Say it of the next of these steps, as the rows beside the plan do; else of the texture. */
  readonly steps?: readonly StepName[]
}

/** The job's slab with its bays as they stand now; nothing until it has an outline. */
export function JobPlan({ job, states = true, steps, ...rest }: JobPlanProps) {
  if (!job.slab) return null
  const state = states ? bayStates(job, outlook.value?.jobs[job.id]?.timeline ?? null, now.value, steps) : new Map()
  const bays = job.bays.map((bay) => ({ id: bay.id, label: bay.label, corners: bay.corners, state: state.get(bay.id) ?? 'empty' }))
  return <Plan outline={job.slab.corners} abutting={job.slab.abutting} bays={bays} {...rest} />
}
