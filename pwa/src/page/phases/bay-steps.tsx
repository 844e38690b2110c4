import { useRef, useState } from 'preact/hooks'
import type { Bay, JobView, Mark, StepName } from '../../shared/job'
import { Button, Notice, sayState, stateWord } from '../look'
import { now } from '../shell/now'
import { outlook } from '../sync/outlook'
import { t } from '../words'
import { act } from './act'
import { nextStep, stepWindow, type NextStep } from './bay-state'
import { JobPlan } from './job-plan'
import { pinMarks } from './pins'
import { stepState } from './steps'
import { timeOf, whoWhen } from './who'
import './bay-steps.css'

export interface BayWorkProps {
  readonly job: JobView
  readonly steps: readonly StepName[]
  readonly title: string
}

/** A glove bounces: a second touch on the same bay within that is the same touch [ms]. */
const BOUNCE_MS = 1_200

/** The bays on the plan and in a list: one touch starts or ends a bay's next step; each bay opens to all its steps. */
export function BayWork({ job, steps, title }: BayWorkProps) {
  const [open, setOpen] = useState<string | null>(null)
  const [last, setLast] = useState<string | null>(null)
  const touched = useRef({ bay: '', at: -Infinity })
  const touch = (id: string): void => {
    const bay = job.bays.find((one) => one.id === id)
    const bounced = touched.current.bay === id && performance.now() - touched.current.at < BOUNCE_MS
    touched.current = { bay: id, at: performance.now() }
    if (!bay || bounced) return
    setLast(id)
    const next = nextStep(bay, steps)
    if (next) void work(job, bay, next)
    else setOpen(id)
  }
  return (
    <section class="block" aria-label={title}>
      <h2>{title}</h2>
      {job.bays.length === 0 && <Notice title={t('pour.noBays')} />}
      {job.slab && job.bays.length > 0 && (
        <>
          <p class="soft">{t('pour.touchBay')}</p>
          <JobPlan job={job} steps={steps} marks={pinMarks(job)} dimensions={false} mode="bay" bay={last} onBay={touch} />
        </>
      )}
      <ul class="rows">
        {job.bays.map((bay) => <BayLine key={bay.id} job={job} bay={bay} steps={steps} open={open === bay.id} onOpen={(opened) => setOpen(opened ? bay.id : null)} onNext={() => touch(bay.id)} />)}
      </ul>
    </section>
  )
}

function work(job: JobView, bay: Bay, { step, mark }: NextStep): Promise<unknown> {
  const label = t(mark === 'start' ? 'pour.did.stepStart' : 'pour.did.stepEnd', { step: t(`pour.step.${step}`), label: bay.label })
  return act(job.id, 'bay.worked', { bay: bay.id, step, mark }, label)
}

interface BayLineProps {
  readonly job: JobView
  readonly bay: Bay
  readonly steps: readonly StepName[]
  readonly open: boolean
  readonly onOpen: (open: boolean) => void
  readonly onNext: () => void
}

/** One bay: what it is at, its next touch as a large key, and all its steps behind its name. */
function BayLine({ job, bay, steps, open, onOpen, onNext }: BayLineProps) {
  const next = nextStep(bay, steps)
  const name = t('layout.bay', { label: bay.label })
  return (
    <li>
      <button type="button" class="bay-name" aria-expanded={open} onClick={() => onOpen(!open)}>
        <strong>{name}</strong>
        <span class="soft">{next ? atWords(job, bay, next) : t('pour.bayDone')}</span>
      </button>
      {next && !open && (
        <button type="button" class={`look-button bay-next look-button-${next.mark === 'end' ? 'main' : 'plain'}`} onClick={onNext}>
          <span class="visually-hidden">{name}: </span>{t(`pour.${next.mark}`)}: {t(`pour.step.${next.step}`)}
        </button>
      )}
      {open && <div class="full"><BaySteps job={job} bay={bay} steps={steps} /></div>}
    </li>
  )
}

/** "since 8:10 am, Ana"; for a step that waits for the concrete, its word and when it opens. */
function atWords(job: JobView, bay: Bay, next: NextStep): string {
  const start = bay.steps[next.step]?.start
  if (next.mark === 'end' && start) return t('pour.stepSince', { from: whoWhen(job, start) })
  const window = stepWindow(outlook.value?.jobs[job.id]?.timeline ?? null, bay.load, next.step)
  if (!window || !bay.steps.strike_off) return t('pour.stepOpen')
  const state = stateWord(now.value, window)
  return state === 'too_soft' ? t('pour.opensAt', { state: sayState(state), time: timeOf(job, window.opens.likely) }) : sayState(state)
}

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
