import type { ComponentChildren } from 'preact'
import type { EventId } from '../../../shared/events'
import type { JobView, Leaf } from '../../../shared/job'
import { Button, Care, Choice, TextField } from '../../look'
import { now } from '../../shell/now'
import { units } from '../../shell/preferences'
import { outlook } from '../../sync/outlook'
import { t } from '../../words'
import { act, takeBack } from '../act'
import { useForm } from '../form'
import { say } from '../quantity'
import { QuantityField } from '../quantity-field'
import { dayTimeOf, nameOf } from '../who'
import { nextCoat, slotsAhead, usualSealer_l } from './state'

interface PartProps {
  readonly job: JobView
}

/** When the work may be done, best time first, with the reason. */
function Slots({ job, what }: PartProps & { readonly what: 'wash' | 'colour' | 'seal' }) {
  const slots = slotsAhead(outlook.value?.jobs[job.id]?.timeline ?? null, what, now.value).slice(0, 3)
  if (slots.length === 0) return <p>{t('nextDays.noSlot')}</p>
  return (
    <ul class="rows">
      {slots.map((slot) => (
        <li key={slot.from}>
          <span>{t('nextDays.slot', { from: dayTimeOf(job, slot.from), to: dayTimeOf(job, slot.to) })}</span>
          <span class="full soft">{slot.reason}</span>
        </li>
      ))}
    </ul>
  )
}

function Done({ job, rows }: PartProps & { readonly rows: readonly (Leaf & { readonly words: string })[] }) {
  const gone = (event: EventId): void => void takeBack(job.id, event, t('nextDays.did.gone'))
  return (
    <ul class="rows">
      {rows.map((row) => (
        <li key={row.event}>
          <span>
            {row.words} <span class="soft">{dayTimeOf(job, row.at)}, {nameOf(row.author)}</span>
          </span>
          <Button kind="quiet" label={`${t('record.takeBack')}: ${row.words}`} onPress={() => gone(row.event)}>{t('record.takeBack')}</Button>
        </li>
      ))}
    </ul>
  )
}

function Part({ id, title, children }: { readonly id: string; readonly title: string; readonly children: ComponentChildren }) {
  return (
    <section class="block" aria-labelledby={id}>
      <h2 id={id}>{title}</h2>
      {children}
    </section>
  )
}

const words = (parts: readonly (string | null)[]): string => parts.filter(Boolean).join(', ')
const textOr = (text: string): string | null => text.trim() || null

interface WashDraft {
  readonly method: string
  readonly contained: 'yes' | 'no' | null
  readonly note: string
}

/** Washing the release off; the run-off question has no default: it must be answered. */
export function WashPart({ job }: PartProps) {
  const { value, put, clear } = useForm<WashDraft>(`${job.id}.wash`, () => ({ method: '', contained: null, note: '' }))
  const save = async (): Promise<void> => {
    if (value.contained === null) return
    if (await act(job.id, 'wash.done', { method: textOr(value.method), contained: value.contained === 'yes', note: textOr(value.note) }, t('nextDays.did.wash'))) clear()
  }
  return (
    <Part id="wash" title={t('nextDays.wash')}>
      <Slots job={job} what="wash" />
      <Care what="run_off" />
      <Done job={job} rows={job.washes.map((wash) => ({ ...wash, words: words([wash.method ?? t('nextDays.washed'), t(wash.contained ? 'nextDays.contained' : 'nextDays.notContained'), wash.note]) }))} />
      <Choice label={t('nextDays.runOff')} value={value.contained} options={[{ value: 'yes', label: t('nextDays.contained') }, { value: 'no', label: t('nextDays.notContained') }]} onPick={(contained) => put({ contained })} />
      <div class="pair">
        <TextField label={t('nextDays.method')} value={value.method} maxLength={120} onCommit={(method) => put({ method })} />
        <TextField label={t('pour.note')} value={value.note} maxLength={500} onCommit={(note) => put({ note })} />
      </div>
      <Button kind="main" disabled={value.contained === null} onPress={() => void save()}>{t('nextDays.saveWash')}</Button>
    </Part>
  )
}

interface ColourDraft {
  readonly product: string
  readonly area_m2: number | null
  readonly note: string
}

export function ColourPart({ job }: PartProps) {
  const { value, put, clear } = useForm<ColourDraft>(`${job.id}.colour`, () => ({ product: job.colours[job.colours.length - 1]?.product ?? '', area_m2: job.slab?.area_m2 ?? null, note: '' }))
  const save = async (): Promise<void> => {
    if (await act(job.id, 'colour.applied', { product: textOr(value.product), area_m2: value.area_m2, note: textOr(value.note) }, t('nextDays.did.colour'))) clear()
  }
  return (
    <Part id="colour" title={t('nextDays.colour')}>
      <Slots job={job} what="colour" />
      <Care what="solvent" />
      <Done job={job} rows={job.colours.map((one) => ({ ...one, words: words([one.product ?? t('nextDays.coloured'), one.area_m2 === null ? null : say(one.area_m2, 'area', units.value), one.note]) }))} />
      <div class="pair">
        <TextField label={t('nextDays.product')} value={value.product} maxLength={120} onCommit={(product) => put({ product })} />
        <QuantityField label={t('nextDays.area')} quantity="area" value={value.area_m2} min={0} max={5000} onCommit={(area_m2) => put({ area_m2 })} />
        <TextField label={t('pour.note')} value={value.note} maxLength={500} onCommit={(note) => put({ note })} />
      </div>
      <Button kind="main" onPress={() => void save()}>{t('nextDays.saveColour')}</Button>
    </Part>
  )
}

interface CoatDraft {
  readonly product: string
  readonly volume_l: number | null
  readonly area_m2: number | null
}

/** Sealer, two or three light coats. */
export function CoatPart({ job }: PartProps) {
  const { value, put, clear } = useForm<CoatDraft>(`${job.id}.coat`, () => ({ product: job.coats[job.coats.length - 1]?.product ?? '', volume_l: null, area_m2: job.slab?.area_m2 ?? null }))
  const coat = nextCoat(job.coats)
  const usual = value.area_m2 ? usualSealer_l(value.area_m2) : null
  const save = async (): Promise<void> => {
    if (coat !== null && (await act(job.id, 'coat.sealed', { coat, product: textOr(value.product), volume_l: value.volume_l, area_m2: value.area_m2 }, t('nextDays.did.coat', { coat })))) clear()
  }
  return (
    <Part id="coat" title={t('nextDays.seal')}>
      <Slots job={job} what="seal" />
      <Care what="solvent" />
      <Done job={job} rows={job.coats.map((one) => ({ ...one, words: words([t('nextDays.coat', { coat: one.coat }), one.product, one.volume_l === null ? null : say(one.volume_l, 'sealer', units.value)]) }))} />
      <div class="pair">
        <TextField label={t('nextDays.product')} value={value.product} maxLength={120} onCommit={(product) => put({ product })} />
        <QuantityField label={t('nextDays.volume')} quantity="sealer" value={value.volume_l} min={0} max={2000} {...(usual ? { hint: t('nextDays.usualSealer', { least: say(usual[0], 'sealer', units.value), most: say(usual[1], 'sealer', units.value) }) } : {})} onCommit={(volume_l) => put({ volume_l })} />
        <QuantityField label={t('nextDays.area')} quantity="area" value={value.area_m2} min={0} max={5000} onCommit={(area_m2) => put({ area_m2 })} />
      </div>
      {coat === null ? <p>{t('nextDays.fourCoats')}</p> : <Button kind="main" onPress={() => void save()}>{t('nextDays.saveCoat', { coat })}</Button>}
      <p class="soft">{t('nextDays.sealNote')}</p>
    </Part>
  )
}
