import type { ComponentChildren } from 'preact'
import type { EventId } from '../../../shared/events'
import type { JobView, Leaf } from '../../../shared/job'
import { formatDuration } from '../../../shared/units'
import { Button, Care, Choice, Notice, TextField } from '../../look'
import { now } from '../../shell/now'
import { units } from '../../shell/preferences'
import { outlook } from '../../sync/outlook'
import { t } from '../../words'
import { act, takeBack } from '../act'
import { useForm } from '../form'
import { say } from '../quantity'
import { QuantityField } from '../quantity-field'
import { dayTimeOf, momentOf, nameOf } from '../who'
import { recoat, workAhead } from './days'
import { ProductLimits } from './product'
import { SheetTests } from './sheet'
import { DryingLine, Slots } from './slots'
import { labelSealer_l, nextCoat, usualSealer_l } from './state'

interface PartProps {
  readonly job: JobView
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
      {job.washes.length === 0 && <Slots job={job} work="wash" />}
      <ProductLimits job={job} work="wash" />
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
      {job.washes.length > 0 && job.colours.length === 0 && <DryingLine job={job} />}
      {job.colours.length === 0 && <Slots job={job} work="colour" />}
      <ProductLimits job={job} work="colour" />
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

/** When the next coat may follow, counted down, and by when it must. */
function Recoat({ job }: PartProps) {
  const coat = nextCoat(job.coats)
  const ahead = coat === null ? null : workAhead(outlook.value?.jobs[job.id]?.timeline, 'seal', coat)
  const told = ahead && recoat(ahead, now.value)
  if (!told || coat === null) return null
  const by = told.by ? ` ${t('nextDays.recoatBy', { at: momentOf(job, told.by.toISOString()) })}` : ''
  if (told.by && told.by <= now.value) return <Notice tone="warn" title={t('nextDays.recoatPast', { coat, at: momentOf(job, told.by.toISOString()) })} />
  if (told.from && told.minutes !== null) return <Notice title={t('nextDays.recoatIn', { coat, at: momentOf(job, told.from.toISOString()), left: formatDuration(told.minutes) }) + by} />
  return <Notice title={t('nextDays.recoatNow', { coat }) + by} />
}

/** Sealer, two or three light coats. */
export function CoatPart({ job }: PartProps) {
  const { value, put, clear } = useForm<CoatDraft>(`${job.id}.coat`, () => ({ product: job.coats[job.coats.length - 1]?.product ?? '', volume_l: null, area_m2: job.slab?.area_m2 ?? null }))
  const coat = nextCoat(job.coats)
  const usual = value.area_m2 ? usualSealer_l(value.area_m2) : null
  const labelled = value.area_m2 ? labelSealer_l(value.area_m2, job) : null
  const hint = labelled ? t('nextDays.labelSealer', { amount: say(labelled, 'sealer', units.value) }) : usual ? t('nextDays.usualSealer', { least: say(usual[0], 'sealer', units.value), most: say(usual[1], 'sealer', units.value) }) : null
  const save = async (): Promise<void> => {
    if (coat !== null && (await act(job.id, 'coat.sealed', { coat, product: textOr(value.product), volume_l: value.volume_l, area_m2: value.area_m2 }, t('nextDays.did.coat', { coat })))) clear()
  }
  return (
    <Part id="coat" title={t('nextDays.seal')}>
      {job.washes.length > 0 && job.coats.length === 0 && <DryingLine job={job} />}
      <Recoat job={job} />
      {coat !== null && <Slots job={job} work="seal" coat={coat} />}
      <ProductLimits job={job} work="seal" />
      <SheetTests job={job} />
      <Care what="solvent" />
      <Done job={job} rows={job.coats.map((one) => ({ ...one, words: words([t('nextDays.coat', { coat: one.coat }), one.product, one.volume_l === null ? null : say(one.volume_l, 'sealer', units.value)]) }))} />
      <div class="pair">
        <TextField label={t('nextDays.product')} value={value.product} maxLength={120} onCommit={(product) => put({ product })} />
        <QuantityField label={t('nextDays.volume')} quantity="sealer" value={value.volume_l} min={0} max={2000} {...(hint ? { hint } : {})} onCommit={(volume_l) => put({ volume_l })} />
        <QuantityField label={t('nextDays.area')} quantity="area" value={value.area_m2} min={0} max={5000} onCommit={(area_m2) => put({ area_m2 })} />
      </div>
      {coat === null ? <p>{t('nextDays.fourCoats')}</p> : <Button kind="main" onPress={() => void save()}>{t('nextDays.saveCoat', { coat })}</Button>}
      <p class="soft">{t('nextDays.sealNote')}</p>
    </Part>
  )
}
