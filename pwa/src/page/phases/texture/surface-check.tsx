import { useState } from 'preact/hooks'
import type { LoadId } from '../../../shared/events'
import type { Check, CheckKind, JobView } from '../../../shared/job'
import { Button, Field } from '../../look'
import { units } from '../../shell/preferences'
import { t } from '../../words'
import { act, takeBack } from '../act'
import { BayKeys } from '../bay-steps'
import { sayShort } from '../quantity'
import { QuantityField } from '../quantity-field'
import { bayInHand, TEXTURE_STEPS } from '../steps'
import { whoWhen } from '../who'
import { checkWord, FOOTPRINTS_MM, loadOf } from './state'

/** What the surface says: one touch for each answer; every answer sharpens that load's window. */
export function SurfaceCheck({ job }: { readonly job: JobView }) {
  const [chosen, setChosen] = useState<string | null>(null)
  const [said, setSaid] = useState<LoadId | null>(null)
  const bay = chosen ?? bayInHand(job.bays, TEXTURE_STEPS)
  const load = loadOf(job, bay) ?? job.loads.find((one) => one.id === said) ?? null
  const write = (kind: CheckKind, depth_mm: number | null): void => {
    if (!load) return
    const known = job.bays.find((one) => one.id === bay)
    void act(job.id, 'check.made', { load: load.id, bay: known?.id ?? null, kind, depth_mm }, t('texture.did.check', { number: load.number }))
  }
  return (
    <section class="block" aria-labelledby="check">
      <h2 id="check">{t('texture.check')}</h2>
      {job.bays.length > 0 && <BayKeys job={job} picked={bay} onPick={setChosen} />}
      {load ? <p>{t('texture.checkOf', { number: load.number })}</p> : (
        <Field label={t('texture.whichLoad')}>
          <select class="look-input" value={said ?? ''} onChange={(event) => setSaid((event.currentTarget.value || null) as LoadId | null)}>
            <option value="">{t('layout.bays.noLoad')}</option>
            {job.loads.map((one) => <option key={one.id} value={one.id}>{t('layout.load', { number: one.number })}</option>)}
          </select>
        </Field>
      )}
      {load && <CheckKeys onCheck={write} />}
      <CheckList job={job} />
    </section>
  )
}

function CheckKeys({ onCheck }: { readonly onCheck: (kind: CheckKind, depth_mm: number | null) => void }) {
  const [depth, setDepth] = useState<number | null>(null)
  const [missing, setMissing] = useState(false)
  const footprint = (): void => {
    setMissing(depth === null)
    if (depth === null) return
    onCheck('footprint', depth)
    setDepth(null)
  }
  return (
    <div class="stack">
      <h3>{t('texture.footprint')}</h3>
      <p class="soft">{t('texture.footprintHint')}</p>
      <div class="keys">
        {FOOTPRINTS_MM.map((mm) => <Button key={mm} onPress={() => onCheck('footprint', mm)}>{mm === 0 ? t('texture.noMark') : depthWords(mm)}</Button>)}
      </div>
      <div class="pair">
        <QuantityField label={t('texture.otherDepth')} quantity="footprint" value={depth} min={0} max={60} onCommit={setDepth} refusal={missing ? t('texture.depthFirst') : null} />
        <div class="keys">
          <Button onPress={footprint}>{t('texture.saveFootprint')}</Button>
          <Button onPress={() => { onCheck('thumb', depth); setDepth(null) }}>{t(depth === null ? 'texture.thumb' : 'texture.thumbDepth')}</Button>
        </div>
      </div>
      <h3>{t('texture.mat')}</h3>
      <div class="keys">
        <Button onPress={() => onCheck('mat_clean', null)}>{t('texture.kind.mat_clean')}</Button>
        <Button onPress={() => onCheck('mat_sticks', null)}>{t('texture.kind.mat_sticks')}</Button>
        <Button onPress={() => onCheck('mat_refused', null)}>{t('texture.kind.mat_refused')}</Button>
      </div>
    </div>
  )
}

const depthWords = (mm: number): string => sayShort(mm / 1000, units.value)

function CheckList({ job }: { readonly job: JobView }) {
  const latest = [...job.checks].sort((a, b) => b.at.localeCompare(a.at)).slice(0, 6)
  if (latest.length === 0) return <p>{t('texture.noChecks')}</p>
  return <ul class="rows">{latest.map((check) => <CheckRow key={check.event} job={job} check={check} />)}</ul>
}

function CheckRow({ job, check }: { readonly job: JobView; readonly check: Check }) {
  const load = job.loads.find((one) => one.id === check.load)
  const bay = job.bays.find((one) => one.id === check.bay)
  const words = [t(`texture.kind.${check.kind}`), check.depth_mm === null ? null : depthWords(check.depth_mm)].filter(Boolean).join(' ')
  return (
    <li>
      <span>
        <strong>{bay ? t('layout.bay', { label: bay.label }) : load ? t('layout.load', { number: load.number }) : ''}</strong> {words}. {t(`texture.says.${checkWord(check)}`)}
        <br />
        <span class="soft">{whoWhen(job, check)}</span>
      </span>
      <Button kind="quiet" label={`${t('record.takeBack')}: ${words}`} onPress={() => void takeBack(job.id, check.event, t('texture.did.checkGone'))}>{t('record.takeBack')}</Button>
    </li>
  )
}
