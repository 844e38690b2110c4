import { useState } from 'preact/hooks'
import type { JobView, Load } from '../../../shared/job'
import { Button, Notice } from '../../look'
import { units } from '../../shell/preferences'
import { t } from '../../words'
import { offerUndo } from '../../log/undo'
import { also, takeBack } from '../act'
import { say } from '../quantity'
import { momentOf, nameOf, timeOf } from '../who'
import { differing, findDoubles, lacking, type Double, type Taken } from '../../../shared/doubles'
import { sayDoses } from './match-words'
import { draftOf, nextNumber, ticketBody, type TicketDraft } from './ticket'

/** Loads written twice by two phones: side by side, one touch to say whether they are one truck. */
export function Doubles({ job }: { readonly job: JobView }) {
  const doubles = findDoubles(job.loads, job.notes)
  const [pair] = doubles
  if (!pair) return <Merged job={job} />
  return (
    <>
      <DoubleCard key={`${pair.first.id}-${pair.second.id}`} job={job} pair={pair} />
      {doubles.length > 1 && <p>{t('pour.double.more', { count: doubles.length - 1 })}</p>}
      <Merged job={job} />
    </>
  )
}

function DoubleCard({ job, pair }: { readonly job: JobView; readonly pair: Double }) {
  const { first, second } = pair
  const [take, setTake] = useState(true)
  const names = authors(job, first, second)
  const title = first.number === second.number
    ? t('pour.double.title', { number: first.number, one: names[0], two: names[1], at: timeOf(job, first.at), later: timeOf(job, second.at) })
    : t('pour.double.titleTwo', { first: first.number, second: second.number })
  const both = [first, second] as const
  const lacks = [...new Set([...lacking(first, second), ...lacking(second, first)])]
  return (
    <Notice tone="warn" title={title}>
      <p>{t('pour.double.why', { what: pair.alike.map((one) => t(`pour.double.${one}`)).join(', ') })}</p>
      <Beside job={job} first={first} second={second} names={names} />
      {lacks.length > 0 && (
        <label class="row double-take">
          <input type="checkbox" checked={take} onChange={(event) => setTake(event.currentTarget.checked)} />
          <span>{t('pour.double.take', { fields: lacks.map(fieldName).join(', ') })}</span>
        </label>
      )}
      <div class="keys">
        {both.map((kept, i) => <Button key={kept.id} onPress={() => void merge(job, kept, both[1 - i] as Load, take, names[i] ?? '')}>{t('pour.double.keep', { name: names[i] ?? '' })}</Button>)}
        <Button onPress={() => void tellApart(job, first, second)}>{t('pour.double.two')}</Button>
      </div>
    </Notice>
  )
}

/** Who wrote each; where that is one name, its time tells them apart. */
function authors(job: JobView, first: Load, second: Load): readonly [string, string] {
  const [one, two] = [nameOf(first.author), nameOf(second.author)]
  return one === two ? [t('pour.double.nameAt', { name: one, time: timeOf(job, first.at) }), t('pour.double.nameAt', { name: two, time: timeOf(job, second.at) })] : [one, two]
}

/** The double becomes part of the kept load, which may first take what it lacks; one undo takes both back. */
async function merge(job: JobView, kept: Load, double: Load, take: boolean, name: string): Promise<void> {
  const fields = take ? lacking(kept, double) : []
  const taken: Partial<TicketDraft> = Object.fromEntries(fields.map((field) => [field, double[field]]))
  const filled = fields.length > 0 ? await also(job.id, 'load.ticketed', ticketBody({ ...draftOf(kept), ...taken }, kept.id)) : null
  if (fields.length > 0 && !filled) return
  const merged = await also(job.id, 'load.merged', { load: double.id, into: kept.id })
  if (merged) offerUndo(job.id, merged, t('pour.did.merged', { number: kept.number, name }), filled ? [filled] : [])
}

/** Two trucks: the later one gets a number of its own, and a note that everyone reads keeps the question answered. */
async function tellApart(job: JobView, first: Load, second: Load): Promise<void> {
  const number = first.number === second.number ? nextNumber(job.loads) : second.number
  const text = t('pour.double.note', { first: Math.min(first.number, number), second: Math.max(first.number, number) })
  const note = await also(job.id, 'note.written', { text })
  if (!note) return
  if (number === second.number) return offerUndo(job.id, note, t('pour.did.toldApart', { first: first.number, second: number }))
  const renumbered = await also(job.id, 'load.ticketed', ticketBody({ ...draftOf(second), number }, second.id))
  if (renumbered) offerUndo(job.id, renumbered, t('pour.did.renumbered', { from: second.number, number }), [note])
}

const fieldName = (field: Taken): string => t(`pour.field.${field}`)

/** Both tickets side by side; the lines that differ stand out and say so. */
function Beside({ job, first, second, names }: { readonly job: JobView; readonly first: Load; readonly second: Load; readonly names: readonly [string, string] }) {
  const apart = new Set<string>(differing(first, second))
  const rows = (['number', 'batched_at', 'volume_m3', 'ticket', 'slump_mm', 'concrete_temp_c', 'water_added_l', 'water_allowed_l', 'colour_bags', 'plant', 'admixtures'] as const).filter((field) => first[field] !== null || second[field] !== null)
  return (
    <table class="beside">
      <thead><tr><th scope="col"><span class="visually-hidden">{t('pour.double.what')}</span></th><th scope="col">{names[0]}</th><th scope="col">{names[1]}</th></tr></thead>
      <tbody>
        <tr><th scope="row">{t('pour.double.written')}</th><td>{momentOf(job, first.at)}</td><td>{momentOf(job, second.at)}</td></tr>
        {rows.map((field) => (
          <tr key={field} class={apart.has(field) ? 'beside-differs' : undefined}>
            <th scope="row">{t(`pour.field.${field}`)}{apart.has(field) && <span class="visually-hidden"> {t('pour.double.differs')}</span>}</th>
            <td>{cell(job, first, field)}</td>
            <td>{cell(job, second, field)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

function cell(job: JobView, load: Load, field: Taken | 'number' | 'batched_at' | 'volume_m3'): string {
  const value = load[field]
  if (value === null) return '–'
  if (field === 'batched_at') return timeOf(job, load.batched_at)
  if (field === 'admixtures') return sayDoses(load.admixtures ?? [])
  if (typeof value === 'string') return value
  if (typeof value !== 'number') return ''
  if (field === 'number' || field === 'colour_bags') return String(value)
  const quantity = field === 'volume_m3' ? 'volume' : field === 'slump_mm' ? 'slump' : field === 'concrete_temp_c' ? 'temp' : 'water'
  return say(value, quantity, units.value)
}

/** What was joined, by whom; one touch takes it apart again. */
function Merged({ job }: { readonly job: JobView }) {
  if (job.merged.length === 0) return null
  return (
    <ul class="rows">
      {job.merged.map(({ load, into, event, at, author }) => {
        const number = job.loads.find((one) => one.id === into)?.number ?? ''
        const label = t('pour.double.apart', { number })
        return (
          <li key={load}>
            <span>{t('pour.double.joined', { number, name: nameOf(author), time: momentOf(job, at) })}</span>
            <Button kind="quiet" label={label} onPress={() => void takeBack(job.id, event, label)}>{t('record.takeBack')}</Button>
          </li>
        )
      })}
    </ul>
  )
}
