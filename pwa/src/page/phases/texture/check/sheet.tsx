import { useEffect, useRef, useState } from 'preact/hooks'
import type { CheckKind, JobView } from '../../../../shared/job'
import { Lessons } from '../../../decide/lesson'
import { latestLesson, oddChecks } from '../../../decide/learned'
import { Button } from '../../../look'
import { now } from '../../../shell/now'
import { outlook } from '../../../sync/outlook'
import { t } from '../../../words'
import { act, attempt } from '../../act'
import { CheckKeys } from './keys'
import { nearest, subjectsOf, type Subject } from './subject'

export interface CheckSheetProps {
  readonly job: JobView
  readonly onClose: () => void
}

/** Over the foot of the screen, in the thumb's reach: the concrete in question is chosen already, one touch says what it is like. */
export function CheckSheet({ job, onClose }: CheckSheetProps) {
  const [chosen, setChosen] = useState<string | null>(null)
  const [noted, setNoted] = useState<string | null>(null)
  const dialog = useRef<HTMLDialogElement>(null)
  useEffect(() => dialog.current?.showModal(), [])
  const subjects = subjectsOf(job)
  const subject = subjects.find(({ key }) => key === chosen) ?? nearest(subjects, outlook.value?.jobs[job.id]?.timeline ?? null, now.value)
  const writing = useRef(false)
  const write = async (kind: CheckKind, depth_mm: number | null): Promise<void> => {
    // a second touch before the first is kept is a wet glove
    if (!subject || writing.current) return
    writing.current = true
    const { load, bay } = subject
    // what comes next is about the same concrete, whatever the clocks say by then
    setChosen(subject.key)
    setNoted(await act(job.id, 'check.made', { load: load.id, bay: bay?.id ?? null, kind, depth_mm }, t('texture.did.check', { number: load.number })))
    writing.current = false
  }
  return (
    <dialog ref={dialog} class="check-sheet" aria-labelledby="check-title" onClose={onClose}>
      <div class="check-head">
        <h2 id="check-title">{t('texture.check')}</h2>
        <Button kind="quiet" onPress={() => dialog.current?.close()}>{t('texture.check.close')}</Button>
      </div>
      {subject && <SubjectKeys subjects={subjects} picked={subject} onPick={(key) => { setChosen(key); setNoted(null) }} />}
      {noted !== null ? <Noted job={job} event={noted} onMore={() => setNoted(null)} onClose={() => dialog.current?.close()} /> : <CheckKeys onCheck={(kind, depth_mm) => void write(kind, depth_mm)} />}
    </dialog>
  )
}

/** Big keys to speak of other concrete than the nearest. */
function SubjectKeys({ subjects, picked, onPick }: { readonly subjects: readonly Subject[]; readonly picked: Subject; readonly onPick: (key: string) => void }) {
  return (
    <div class="stack">
      <div class="row" role="group" aria-label={t('texture.check.of')}>
        {subjects.map(({ key, bay, load }) => (
          <button key={key} type="button" class="corner-pick" aria-pressed={key === picked.key} aria-label={bay ? t('layout.bay', { label: bay.label }) : t('layout.load', { number: load.number })} onClick={() => onPick(key)}>
            {bay ? bay.label : t('layout.load', { number: load.number })}
          </button>
        ))}
      </div>
      <p>{t('texture.checkOf', { number: picked.load.number })}</p>
    </div>
  )
}

/** What the check changed, as soon as the times know it. */
function Noted({ job, event, onMore, onClose }: { readonly job: JobView; readonly event: string; readonly onMore: () => void; readonly onClose: () => void }) {
  const timeline = outlook.value?.jobs[job.id]?.timeline
  const known = latestLesson(job, timeline)?.check.event === event || oddChecks(job, timeline).some((check) => check.event === event)
  return (
    <div class="stack" role="status">
      <p class="big-figure">{t('texture.check.noted')}</p>
      {known ? <Lessons job={job} timeline={timeline} now={now.value} attempt={attempt} /> : <p>{t('texture.check.working')}</p>}
      <div class="keys">
        <Button kind="main" onPress={onClose}>{t('texture.check.done')}</Button>
        <Button onPress={onMore}>{t('texture.check.more')}</Button>
      </div>
    </div>
  )
}
