import type { Bay, JobView, Mark, StepName } from '../../shared/job'
import { Button, Notice } from '../look'
import { t } from '../words'
import { act } from './act'
import { stepState } from './steps'
import { timeOf, whoWhen } from './who'

/** One row of big keys to pick the bay in hand. */
export function BayKeys({ job, picked, onPick }: { readonly job: JobView; readonly picked: string | null; readonly onPick: (bay: string) => void }) {
  if (job.bays.length === 0) return <Notice title={t('pour.noBays')} />
  return (
    <div class="row" role="group" aria-label={t('layout.part.bays')}>
      {job.bays.map((bay) => (
        <button key={bay.id} type="button" class="corner-pick" aria-pressed={bay.id === picked} aria-label={t('layout.bay', { label: bay.label })} onClick={() => onPick(bay.id)}>
          {bay.label}
        </button>
      ))}
    </div>
  )
}

/** The steps of one bay: start and end, each one touch. */
export function BaySteps({ job, bay, steps }: { readonly job: JobView; readonly bay: Bay; readonly steps: readonly StepName[] }) {
  return (
    <ul class="rows" aria-label={t('layout.bay', { label: bay.label })}>
      {steps.map((step) => <StepRow key={step} job={job} bay={bay} step={step} />)}
    </ul>
  )
}

function StepRow({ job, bay, step }: { readonly job: JobView; readonly bay: Bay; readonly step: StepName }) {
  const state = stepState(bay, step)
  const marks = bay.steps[step]
  const name = t(`pour.step.${step}`)
  const mark = (which: 'start' | 'end'): void =>
    void act(job.id, 'bay.worked', { bay: bay.id, step, mark: which }, t(which === 'start' ? 'pour.did.stepStart' : 'pour.did.stepEnd', { step: name, label: bay.label }))
  const key = (which: 'start' | 'end', kind: 'main' | 'plain' | 'quiet'): preact.JSX.Element => (
    <Button kind={kind} label={`${t(which === 'start' ? 'pour.start' : 'pour.end')}: ${name}, ${t('layout.bay', { label: bay.label })}`} onPress={() => mark(which)}>
      {t(which === 'start' ? 'pour.start' : 'pour.end')}
    </Button>
  )
  return (
    <li>
      <span>
        <strong>{name}</strong>
        <br />
        <span class="soft">{stepWords(job, marks?.start ?? null, state === 'done' ? marks?.end ?? null : null)}</span>
      </span>
      {state === 'open' && key('start', 'plain')}
      {state === 'running' && key('end', 'main')}
      {state === 'done' && key('start', 'quiet')}
    </li>
  )
}

function stepWords(job: JobView, start: Mark | null, end: Mark | null): string {
  if (end) return start ? t('pour.stepFromTo', { from: timeOf(job, start.at), to: whoWhen(job, end) }) : t('pour.stepEnded', { to: whoWhen(job, end) })
  return start ? t('pour.stepSince', { from: whoWhen(job, start) }) : t('pour.stepOpen')
}
