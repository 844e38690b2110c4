import type { JobView } from '../../../shared/job'
import { sayLeft } from '../../look'
import { now } from '../../shell/now'
import { units } from '../../shell/preferences'
import { outlook } from '../../sync/outlook'
import { t } from '../../words'
import { say } from '../quantity'
import { momentOf, timeOf } from '../who'
import type { Arrival } from './fill'
import { sayMatch } from './match-words'
import { nextOnPour, type Next } from './next'

/** The first line of the screen: what to do next. */
export function NextLine({ job }: { readonly job: JobView }) {
  const next = nextOnPour(job, outlook.value?.jobs[job.id]?.timeline ?? null, now.value)
  const [title, todo] = sayNext(next, job)
  if (!title) return null
  return (
    <p class={`next-line${next.what === 'hold' ? ' next-line-hold' : ''}`} role="status">
      <span class="soft">{t('pour.next.name')}</span>
      <strong>{title}</strong>
      {todo}
    </p>
  )
}

function sayNext(next: Next, job: JobView): readonly [string, string] {
  const drum = (by: Date, minutes: number) => ({ by: timeOf(job, by.toISOString()), left: sayLeft(minutes) })
  switch (next.what) {
    case 'hold': {
      const { title, todo } = sayMatch(next.word, job)
      return [t('pour.next.hold', { number: next.load.number, why: title }), todo]
    }
    case 'empty':
      return [t('pour.next.empty', { number: next.load.number, ...drum(next.drum.by, minutesTo(next.drum.by)) }), t('pour.next.emptyDo')]
    case 'place':
      return [t('pour.next.place', { number: next.load.number, ...drum(next.drum.by, minutesTo(next.drum.by)) }), t('pour.next.placeDo')]
    case 'ticket':
      return [t('pour.next.ticket', { time: timeOf(job, next.load.placed.from) }), '']
    case 'step':
      return sayStep(next, job)
    case 'finish':
      return [t('pour.next.finish', { number: next.load.number }), '']
    case 'coming':
      return sayComing(next.arrival, job)
    case 'wait':
      return sayWait(next, job)
    case 'texture':
      return [t('pour.next.texture'), '']
    case 'nothing':
      return job.loads.length === 0 ? [t('pour.next.first'), ''] : ['', '']
  }
}

/** A truck more than this behind its time is asked after [ms]. */
const LATE_MS = 10 * 60_000

function sayComing({ number, volume_m3, at }: Arrival, job: JobView): readonly [string, string] {
  const params = { number, volume: say(volume_m3, 'volume', units.value), time: momentOf(job, at.toISOString()) }
  const late = now.value.getTime() - at.getTime() > LATE_MS
  return late ? [t('pour.next.due', params), t('pour.next.dueDo')] : [t('pour.next.coming', params), t(job.loads.length === 0 ? 'pour.next.comingFirst' : 'pour.next.comingDo')]
}

const minutesTo = (time: Date): number => Math.max(0, Math.floor((time.getTime() - now.value.getTime()) / 60_000))

function sayStep({ bay, step }: Extract<Next, { what: 'step' }>, job: JobView): readonly [string, string] {
  const name = t(`pour.step.${step.step}`)
  if (step.mark === 'end') return [t('pour.next.end', { step: name, label: bay.label, since: timeOf(job, bay.steps[step.step]?.start?.at ?? '') }), '']
  return [t('pour.next.start', { step: name, label: bay.label }), step.step === 'bull_float' ? t('pour.next.floatDo') : '']
}

function sayWait({ bay, step, window }: Extract<Next, { what: 'wait' }>, job: JobView): readonly [string, string] {
  const name = t(`pour.step.${step}`)
  const open = Date.parse(window.opens.likely) <= now.value.getTime()
  const title = open ? t('pour.next.open', { step: name, label: bay.label }) : t('pour.next.from', { step: name, label: bay.label, time: timeOf(job, window.opens.likely) })
  return [title, t('pour.next.sheenDo')]
}
