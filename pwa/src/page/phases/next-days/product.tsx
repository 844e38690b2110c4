import type { ProductChosen } from '../../../shared/events'
import type { JobView } from '../../../shared/job'
import { Button, NumberField, TextField } from '../../look'
import { units } from '../../shell/preferences'
import { outlook } from '../../sync/outlook'
import type { Limit, Work } from '../../sync/days'
import { t } from '../../words'
import { act } from '../act'
import { useForm } from '../form'
import { FormEnd } from '../layout/section'
import { useOpenPart } from '../open-part'
import { say, type Quantity } from '../quantity'
import { QuantityField } from '../quantity-field'
import { mayWrite, whoWhen } from '../who'

type Name = Exclude<keyof ProductChosen, 'work' | 'name'>
interface Row {
  readonly name: Name
  readonly quantity?: Quantity
  readonly most: number
  readonly least?: number
}

const WEATHER: readonly Row[] = [
  { name: 'low_c', quantity: 'temp', least: -10, most: 60 },
  { name: 'high_c', quantity: 'temp', least: -10, most: 60 },
  { name: 'over_dew_k', quantity: 'spread', most: 15 },
  { name: 'dry_before_h', most: 96 },
  { name: 'dry_after_h', most: 96 },
  { name: 'wind_most_kmh', quantity: 'speed', most: 80 },
  { name: 'least_age_h', most: 2000 },
]
const COATS: readonly Row[] = [
  { name: 'coats', least: 1, most: 4 },
  { name: 'recoat_least_h', most: 240 },
  { name: 'recoat_most_h', most: 720 },
  { name: 'coverage_m2_per_l', quantity: 'coverage', least: 0.5, most: 30 },
]
const ROWS: Readonly<Record<Work, readonly Row[]>> = {
  wash: WEATHER.filter((row) => row.name === 'low_c' || row.name === 'high_c' || row.name === 'least_age_h'),
  colour: [...WEATHER, { name: 'recoat_least_h', most: 240 }],
  seal: [...WEATHER, ...COATS],
}

type Draft = { readonly name: string } & Readonly<Record<Name, number | null>>

function start(job: JobView, work: Work): Draft {
  const kept = job.products[work]
  const all = [...WEATHER, ...COATS].map((row) => [row.name, kept?.[row.name] ?? null])
  return { name: kept?.name ?? '', ...(Object.fromEntries(all) as Record<Name, number | null>) }
}

/** A limit as people read it. */
export function sayLimit({ name, quantity }: Row, value: number): string {
  if (quantity) return say(value, quantity, units.value)
  return name === 'coats' ? String(value) : `${Number(value.toFixed(1))}\u00a0h`
}

/** What the product asks for: the label's word where it was entered, usual practice (marked so) where not. */
export function ProductLimits({ job, work }: { readonly job: JobView; readonly work: Work }) {
  const part = useOpenPart(`${job.id}.product`)
  const open = part.open === work
  const kept = job.products[work]
  const title = t('nextDays.limits')
  return (
    <section class="stack product" aria-label={`${t(`nextDays.${work}`)}: ${title}`}>
      <div class="block-head">
        <h3>{kept?.name ?? title}</h3>
        {mayWrite(['foreman', 'office']) && (
          <Button expanded={open} label={`${t(open ? 'layout.close' : 'nextDays.fromLabel')}: ${t(`nextDays.${work}`)}`} onPress={() => part.setOpen(open ? '' : work)}>
            {t(open ? 'layout.close' : 'nextDays.fromLabel')}
          </Button>
        )}
      </div>
      {open ? <LimitsForm job={job} work={work} onDone={() => part.close(work)} /> : <LimitsRead job={job} work={work} />}
    </section>
  )
}

function LimitsRead({ job, work }: { readonly job: JobView; readonly work: Work }) {
  const told = outlook.value?.jobs[job.id]?.timeline?.days_ahead?.works.find((one) => one.work === work)?.limits ?? {}
  const kept = job.products[work]
  const rows = ROWS[work].flatMap((row): { readonly row: Row; readonly limit: Limit }[] => {
    const mine = kept?.[row.name]
    const limit: Limit | undefined = mine == null ? told[row.name] : { value: mine, from: 'label' }
    return limit ? [{ row, limit }] : []
  })
  if (rows.length === 0) return <p class="soft">{t('nextDays.noLimits')}</p>
  return (
    <details class="limits">
      <summary>{t('nextDays.limitsSum', { label: rows.filter((one) => one.limit.from === 'label').length, practice: rows.filter((one) => one.limit.from === 'practice').length })}</summary>
      <dl class="facts">
        {rows.map(({ row, limit }) => (
          <div key={row.name} class="facts-row">
            <dt>{t(`nextDays.limit.${row.name}`)}</dt>
            <dd>{sayLimit(row, limit.value)} <span class="soft">{t(`nextDays.from.${limit.from}`)}</span></dd>
          </div>
        ))}
      </dl>
      {kept && <p class="soft">{whoWhen(job, kept)}</p>}
    </details>
  )
}

function LimitsForm({ job, work, onDone }: { readonly job: JobView; readonly work: Work; readonly onDone: () => void }) {
  const { value, put, clear } = useForm<Draft>(`${job.id}.product.${work}`, () => start(job, work))
  const wrong = faultOf(value)
  const drop = (): void => {
    clear()
    onDone()
  }
  const save = async (): Promise<void> => {
    if (wrong) return
    const { name, ...limits } = value
    const body = Object.fromEntries(ROWS[work].map((row) => [row.name, limits[row.name]])) as Partial<Record<Name, number | null>>
    if (await act(job.id, 'product.chosen', { work, name: name.trim() || null, ...body }, t('nextDays.did.product', { work: t(`nextDays.${work}`) }))) drop()
  }
  return (
    <div class="stack">
      <p class="soft">{t('nextDays.labelFirst')}</p>
      <TextField label={t('nextDays.product')} value={value.name} maxLength={80} onCommit={(name) => put({ name })} />
      <div class="pair">
        {ROWS[work].map((row) =>
          row.quantity ? (
            <QuantityField key={row.name} label={t(`nextDays.limit.${row.name}`)} quantity={row.quantity} value={value[row.name]} min={row.least ?? 0} max={row.most} onCommit={(next) => put({ [row.name]: next })} />
          ) : (
            <NumberField key={row.name} label={t(`nextDays.limit.${row.name}`)} unit={row.name === 'coats' ? '' : 'h'} value={value[row.name]} min={row.least ?? 0} max={row.most} step={row.name === 'coats' ? 1 : 2} decimals={row.name === 'coats' ? 0 : 1} onCommit={(next) => put({ [row.name]: row.name === 'coats' ? Math.round(next) : next })} onClear={() => put({ [row.name]: null })} />
          ),
        )}
      </div>
      <FormEnd onSave={() => void save()} onDrop={drop} disabled={wrong !== null} refusal={wrong ? t(`nextDays.limitFault.${wrong}`) : null} />
    </div>
  )
}

/** The most stands below the least. */
export function faultOf(draft: Pick<Draft, 'low_c' | 'high_c' | 'recoat_least_h' | 'recoat_most_h'>): 'temp' | 'recoat' | null {
  if (draft.low_c !== null && draft.high_c !== null && draft.high_c < draft.low_c) return 'temp'
  return draft.recoat_least_h !== null && draft.recoat_most_h !== null && draft.recoat_most_h < draft.recoat_least_h ? 'recoat' : null
}
