import { useEffect, useState } from 'preact/hooks'
import type { Event } from '../../../shared/event'
import type { PersonId, PhotoId } from '../../../shared/events'
import { ROLES } from '../../../shared/events'
import type { JobView } from '../../../shared/job'
import { formatDuration, formatLength } from '../../../shared/units'
import { Button, Empty, Notice, TextField } from '../../look'
import { CallbackPart } from '../../office/lookback/callback-form'
import { CarePart } from '../../office/lookback/care-form'
import { TaughtPart } from '../../office/lookback/taught-part'
import { events } from '../../log/journal'
import { units } from '../../shell/preferences'
import { useDraft } from '../../shell/drafts'
import { me } from '../../sync/session'
import { t } from '../../words'
import { act, attempt, takeBack } from '../act'
import { Frame } from '../frame'
import { JobPlan } from '../job-plan'
import { Facts } from '../layout/section'
import { Photo, PhotoButton } from '../photo'
import { pinMarks } from '../pins'
import { say } from '../quantity'
import { dayTimeOf, mayWrite, nameOf } from '../who'
import { describe } from './describe'
import { recordLines, type RecordLine } from './entries'
import { PapersPart } from './papers'
import { photosOf, totals } from './totals'
import './style.css'

const PAGE = 60

/** The job on one page: totals, plan, photos, every entry in order. */
export function RecordScreen({ job }: { readonly job: JobView }) {
  const [shown, setShown] = useState(PAGE)
  const print = (): void => {
    // The paper holds every entry; the screen draws them page by page.
    setShown(Infinity)
    setTimeout(() => window.print(), 150)
  }
  return (
    <Frame job={job} phase="record" title={t('record.title')}>
      {job.closed && <Notice title={t('record.closedBy', { who: nameOf(job.closed.author), at: dayTimeOf(job, job.closed.at) })}>{job.closed.outcome && <p>{job.closed.outcome}</p>}</Notice>}
      <div class="split">
        <div class="stack">
          <TotalsPart job={job} onPrint={print} />
          <JobPlan job={job} marks={pinMarks(job)} states={false} />
          <PhotosPart job={job} />
          <NotePart job={job} />
          <ClosePart job={job} />
          <TaughtPart job={job} />
          <CallbackPart job={job} />
          <CarePart job={job} />
          <PapersPart job={job} />
        </div>
        <LogPart job={job} shown={shown} onMore={() => setShown(shown + 4 * PAGE)} />
      </div>
    </Frame>
  )
}

function TotalsPart({ job, onPrint }: { readonly job: JobView; readonly onPrint: () => void }) {
  const sums = totals(job)
  return (
    <section class="block" aria-labelledby="totals">
      <div class="block-head">
        <h2 id="totals">{t('record.totals')}</h2>
        <span class="no-print"><Button onPress={onPrint}>{t('record.print')}</Button></span>
      </div>
      <Facts
        rows={[
          [t('record.placed'), t('record.placedOf', { volume: say(sums.placed_m3, 'volume', units.value), loads: sums.loads })],
          [t('layout.slab.area'), sums.area_m2 === null ? null : say(sums.area_m2, 'area', units.value)],
          [t('record.water'), say(sums.water_l, 'water', units.value)],
          [t('record.pace'), sums.batch_to_texture_min === null ? null : formatDuration(sums.batch_to_texture_min)],
          [t('record.cuts'), sums.cut_m ? formatLength(sums.cut_m, units.value) : null],
          [t('record.coats'), sums.coats ? t('record.coatsOf', { coats: sums.coats, volume: say(sums.sealer_l, 'sealer', units.value) }) : null],
          [t('record.pins'), sums.pins ? t('record.pinsOf', { pins: sums.pins, open: sums.open_pins }) : null],
        ]}
      />
    </section>
  )
}

function PhotosPart({ job }: { readonly job: JobView }) {
  const photos = photosOf(job)
  const keep = (photo: PhotoId): void => void act(job.id, 'photo.taken', { photo }, t('record.did.photo'))
  return (
    <section class="block" aria-labelledby="photos">
      <h2 id="photos">{t('record.photos')}</h2>
      {photos.length === 0 && <p>{t('record.noPhotos')}</p>}
      <div class="row">
        {photos.map((one) => (
          <figure key={one.photo}>
            <Photo photo={one.photo} alt={one.caption ?? t('record.photoAt', { at: dayTimeOf(job, one.at) })} />
            <figcaption class="soft">{[dayTimeOf(job, one.at), one.caption].filter(Boolean).join(' · ')}</figcaption>
          </figure>
        ))}
      </div>
      <span class="no-print"><PhotoButton label={t('pour.photo.take')} onKept={keep} /></span>
    </section>
  )
}

function NotePart({ job }: { readonly job: JobView }) {
  const [text, setText, clear] = useDraft(`${job.id}.note`)
  const write = async (): Promise<void> => {
    if (text.trim() && (await act(job.id, 'note.written', { text: text.trim() }, t('record.did.note')))) clear()
  }
  return (
    <section class="block no-print" aria-label={t('record.note')}>
      <TextField label={t('record.note')} value={text} lines={3} maxLength={2000} onCommit={setText} onType={setText} />
      <Button disabled={text.trim() === ''} onPress={() => void write()}>{t('record.writeNote')}</Button>
    </section>
  )
}

function ClosePart({ job }: { readonly job: JobView }) {
  const [outcome, setOutcome, clear] = useDraft(`${job.id}.outcome`)
  if (!mayWrite(ROLES['job.closed'])) return null
  if (job.closed) {
    const { event } = job.closed
    return <Button onPress={() => void takeBack(job.id, event, t('record.did.reopened'))}>{t('record.reopen')}</Button>
  }
  const close = async (): Promise<void> => {
    if (await act(job.id, 'job.closed', { outcome: outcome.trim() || null }, t('record.did.closed'))) clear()
  }
  const open = totals(job).open_pins
  return (
    <section class="block no-print" aria-label={t('record.close')}>
      {open > 0 && <Notice tone="warn" title={t('record.openPins', { open })} />}
      <TextField label={t('record.outcome')} value={outcome} lines={2} maxLength={2000} onCommit={setOutcome} />
      <Button kind="main" onPress={() => void close()}>{t('record.close')}</Button>
    </section>
  )
}

/** Every entry in order, newest first; each may be taken back or brought back. */
function LogPart({ job, shown, onMore }: { readonly job: JobView; readonly shown: number; readonly onMore: () => void }) {
  const [log, setLog] = useState<readonly Event[] | null>(null)
  useEffect(() => {
    let here = true
    void attempt(async () => {
      const found = await events(job.id)
      if (here) setLog(found)
    })
    return () => {
      here = false
    }
  }, [job])
  if (log === null) return <p role="status">{t('record.reading')}</p>
  const lines = recordLines(log, (me.value?.person ?? null) as PersonId | null, me.value?.role ?? null).reverse()
  return (
    <section class="block" aria-labelledby="log">
      <h2 id="log">{t('record.log', { count: lines.length })}</h2>
      {lines.length === 0 && <Empty title={t('record.empty')} />}
      <ol class="rows record-log">{lines.slice(0, shown).map((line) => <LogRow key={line.event.id} job={job} line={line} />)}</ol>
      {lines.length > shown && <Button wide onPress={onMore}>{t('record.more', { count: lines.length - shown })}</Button>}
    </section>
  )
}

function LogRow({ job, line }: { readonly job: JobView; readonly line: RecordLine }) {
  const { event, hidden, undo } = line
  const words = describe(event, job)
  const key = t(hidden ? 'record.bringBack' : 'record.takeBack')
  return (
    <li class={hidden ? 'record-hidden' : undefined}>
      <span>
        {hidden && <strong>{t('record.takenBack')} </strong>}
        <span class="record-words">{words}</span>
        <br />
        <span class="soft time">{dayTimeOf(job, event.at)}, {nameOf(event.author)}</span>
      </span>
      {undo && <span class="no-print"><Button kind="quiet" label={`${key}: ${words}`} onPress={() => void takeBack(job.id, undo, t(hidden ? 'record.did.back' : 'record.did.gone'))}>{key}</Button></span>}
    </li>
  )
}
