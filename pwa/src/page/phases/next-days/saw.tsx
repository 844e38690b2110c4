import { useState } from 'preact/hooks'
import type { Cut, JobView } from '../../../shared/job'
import { formatLength } from '../../../shared/units'
import { WorkedOut } from '../../engine/age'
import { Button, Care, Choice, Notice, Progress, sayRange, sayState, sayTime, stateWord } from '../../look'
import { LengthField } from '../../plan/length-field'
import { WatchFor } from '../../now/notices'
import { practiceCloses_ms } from '../../now/saw-window'
import { now } from '../../shell/now'
import { units } from '../../shell/preferences'
import { isFar } from '../../sync/far'
import { outlook } from '../../sync/outlook'
import { t } from '../../words'
import { act, takeBack } from '../act'
import { useForm } from '../form'
import { sayRun, sayShort } from '../quantity'
import { QuantityField } from '../quantity-field'
import { dayTimeOf, whoWhen, zoneOf } from '../who'
import { CutPlan } from './cut-plan'
import { TestCut } from './test-cut'
import { cutFault, freshCut, guideDepth, readSaw, sawWindows, tooShallow, type CutDraft, type CutFault } from './state'

/** Sawing: the window, what is left, each cut. */
export function SawPart({ job }: { readonly job: JobView }) {
  const saw = readSaw(job)
  return (
    <section class="block" aria-labelledby="saw">
      <h2 id="saw">{t('nextDays.saw')}</h2>
      {saw.done ? <Notice title={t('nextDays.sawDone', { length: sayRun(saw.cut_m, units.value) })} /> : <SawWindows job={job} />}
      {saw.planned_m !== null && saw.planned_m > 0 && <Progress label={t('nextDays.cutLength', { cut: sayRun(saw.cut_m, units.value), left: sayRun(saw.left_m ?? 0, units.value) })} done={Math.min(100, Math.round((100 * saw.cut_m) / saw.planned_m))} total={100} percent />}
      {saw.ravelled && !saw.done && <Notice tone="warn" title={t('nextDays.ravelledDo')} />}
      {!saw.done && <TestCut job={job} />}
      <CutPlan job={job} />
      <Care what="saw" />
      <Care what="silica" />
      {job.planned_cuts.length > 0 ? (
        <details class="stack one-cut">
          <summary>{t('nextDays.otherCut')}</summary>
          <CutForm job={job} />
        </details>
      ) : (
        <CutForm job={job} />
      )}
      {job.cuts.length > 0 ? <ul class="rows">{job.cuts.map((cut) => <CutRow key={cut.event} job={job} cut={cut} />)}</ul> : <p>{t('nextDays.noCuts')}</p>}
    </section>
  )
}

/** When each load's joints may be sawn and by when they must be. */
function SawWindows({ job }: { readonly job: JobView }) {
  const zone = zoneOf(job)
  const mine = outlook.value?.jobs[job.id]
  const timeline = mine?.planned ? null : (mine?.timeline ?? null)
  const windows = mine ? sawWindows(job, timeline) : []
  if (!mine || windows.length === 0) return <p>{t(isFar(outlook.value, job) ? 'nextDays.noOutlook' : 'nextDays.noWindow')}</p>
  return (
    <>
      <ul class="rows">
        {windows.map(({ load, window, byHandbook }) => {
          const number = job.loads.find((one) => one.id === load)?.number
          const state = stateWord(now.value, window)
          return (
            <li key={load ?? 'slab'}>
              <span>
                <strong>{load === null ? t('nextDays.wholeSlab') : number === undefined ? t('nextDays.planned') : t('layout.load', { number })}</strong> {sayTime(now.value, window, zone)}
                <br />
                <span class="soft">{t('nextDays.between', { opens: dayTimeOf(job, window.opens.likely), range: sayRange(window.opens, now.value, zone), closes: window.closes ? dayTimeOf(job, window.closes.likely) : '–' })}{byHandbook && ` ${load === null ? t('nextDays.byPractice', { hours: practiceCloses_ms(job) / 3_600_000 }) : t('nextDays.byHandbook')}`}</span>
              </span>
              <strong>{sayState(state)}</strong>
            </li>
          )
        })}
      </ul>
      {timeline && <WatchFor job={job} timeline={timeline} now={now.value} all only="first_night_drop" first />}
      {timeline && <WorkedOut look={mine} now={now.value} />}
    </>
  )
}

function CutForm({ job }: { readonly job: JobView }) {
  const form = useForm<CutDraft>(`${job.id}.cut`, () => freshCut(job))
  const [fault, setFault] = useState<CutFault | null>(null)
  const { value, put } = form
  const left = readSaw(job).left_m
  const save = async (last: boolean): Promise<void> => {
    const wrong = cutFault(value, job)
    setFault(wrong)
    if (wrong || value.length_m === null) return
    const { length_m, depth_m, saw, ravelled } = value
    if (await act(job.id, 'cut.made', { length_m, depth_m, saw, ravelled, last }, t(last ? 'nextDays.did.lastCut' : 'nextDays.did.cut', { length: formatLength(length_m, units.value) }))) form.clear()
  }
  return (
    <div class="stack">
      <div class="pair">
        <LengthField label={t('nextDays.length')} value_m={value.length_m} min_m={0.01} max_m={1000} onCommit={(length_m) => put({ length_m })} onClear={() => put({ length_m: null })} />
        <QuantityField label={t('nextDays.depth')} quantity="depth" value={value.depth_m} min={0} max={0.6} onCommit={(depth_m) => put({ depth_m })} remark={tooShallow(value, job) ? t('nextDays.shallow', { depth: sayShort(guideDepth(job, value.saw) ?? 0, units.value) }) : null} />
      </div>
      {left !== null && left > 0.01 && value.length_m === null && <Button onPress={() => put({ length_m: left })}>{t('nextDays.allLeft', { length: sayRun(left, units.value) })}</Button>}
      <Choice label={t('layout.crew.saw')} value={value.saw} options={[{ value: 'conventional', label: t('layout.saw.conventional') }, { value: 'early-entry', label: t('layout.saw.early-entry') }]} onPick={(saw) => put({ saw })} />
      <Choice label={t('nextDays.edges')} value={value.ravelled ? 'ravelled' : 'clean'} options={[{ value: 'clean', label: t('nextDays.clean') }, { value: 'ravelled', label: t('nextDays.ravelled') }]} onPick={(edges) => put({ ravelled: edges === 'ravelled' })} />
      {fault && <p class="refusal" role="alert">{t(`nextDays.fault.${fault}`)}</p>}
      <div class="keys">
        <Button kind="main" onPress={() => void save(false)}>{t('nextDays.saveCut')}</Button>
        <Button onPress={() => void save(true)}>{t('nextDays.lastCut')}</Button>
      </div>
    </div>
  )
}

function CutRow({ job, cut }: { readonly job: JobView; readonly cut: Cut }) {
  const words = [formatLength(cut.length_m, units.value), cut.depth_m === null ? null : t('nextDays.deep', { depth: sayShort(cut.depth_m, units.value) }), t(`layout.saw.${cut.saw}`), cut.ravelled ? t('nextDays.ravelled') : null, cut.last ? t('nextDays.wasLast') : null].filter(Boolean).join(', ')
  return (
    <li>
      <span>
        {words}
        <br />
        <span class="soft">{whoWhen(job, cut)}</span>
      </span>
      <Button kind="quiet" label={`${t('record.takeBack')}: ${words}`} onPress={() => void takeBack(job.id, cut.event, t('nextDays.did.cutGone'))}>{t('record.takeBack')}</Button>
    </li>
  )
}
