import { listProgress, NEEDS, type ItemProgress, type Row } from '../../shared/checklists'
import { ROLES } from '../../shared/events'
import type { JobView, ListName } from '../../shared/job'
import { LinkButton, Progress, Tick } from '../look'
import { me } from '../sync/session'
import { units } from '../shell/preferences'
import { t, type WordKey } from '../words'
import { act, takeBack } from './act'
import { sayShort } from './quantity'
import { mayWrite, momentOf, nameOf } from './who'

/** The words of an item; a test holds that every item of every list has them. */
export const itemWords = (list: ListName, item: string): string => t(`ready.item.${list}.${item}` as WordKey)

export function subjectWords(job: JobView, subject: string): string {
  const bay = job.bays.find((one) => one.id === subject)
  if (bay) return t('layout.bay', { label: bay.label })
  const face = job.slab?.abutting.find((one) => String(one.edge) === subject)
  return face ? face.against : ''
}

/** All lines of one checklist: one touch ticks, one touch takes back; what is measured shows how far it is. */
export function Checklist({ job, list, ticksOnly = false }: { readonly job: JobView; readonly list: ListName; readonly ticksOnly?: boolean }) {
  const { done, total, items } = listProgress(job, list)
  return (
    <section class="block" aria-label={t('ready.lines')}>
      <Progress done={done} total={total} label={t('ready.progress')} />
      {ticksFirst(items).filter((item) => !ticksOnly || item.counted === 'tick').map((item) => (
        <div key={item.item} class="stack">
          {item.rows.map((row) => (item.counted === 'tick' ? <TickRow key={row.subject} job={job} list={list} item={item} row={row} /> : <CountRow key={row.subject} job={job} list={list} item={item} row={row} />))}
        </div>
      ))}
    </section>
  )
}

/** What a touch ticks stands before what is counted from measurements. */
const ticksFirst = (items: readonly ItemProgress[]): ItemProgress[] =>
  [...items].sort((a, b) => Number(a.counted !== 'tick') - Number(b.counted !== 'tick'))

interface RowProps {
  readonly job: JobView
  readonly list: ListName
  readonly item: ItemProgress
  readonly row: Row
}

function labelOf({ job, list, item, row }: RowProps): string {
  const subject = subjectWords(job, row.subject)
  const words = itemWords(list, item.item)
  return subject ? `${subject}: ${words}` : words
}

function TickRow(props: RowProps) {
  const { job, list, item, row } = props
  const label = labelOf(props)
  const write = (done: boolean): void => void act(job.id, 'item.ticked', { list, item: item.item, subject: row.subject, done }, t(done ? 'ready.did.ticked' : 'ready.did.unticked', { label }))
  const undo = (): void => {
    // Crew may not take back another's entry: then the tick is set to open instead, under their own name.
    if (row.event && (row.by === me.value?.person || mayWrite(['foreman', 'office']))) void takeBack(job.id, row.event, t('ready.did.unticked', { label }))
    else write(false)
  }
  return <Tick label={label} done={row.done} by={row.by && nameOf(row.by)} at={row.at && momentOf(job, row.at)} onTick={() => write(true)} onUndo={undo} />
}

/** A line counted from what was recorded. */
function CountRow(props: RowProps) {
  const { job, item, row } = props
  return (
    <div class="count-row">
      <span class="count-mark" aria-hidden="true">{item.counted === 'fall_away' && sideFlag(row) ? '!' : row.done ? '✓' : '–'}</span>
      <span class="stack">
        <span>{labelOf(props)}</span>
        <span class="soft">{[countWords(props), row.by && row.at && row.done ? `${momentOf(job, row.at)}, ${nameOf(row.by)}` : ''].filter(Boolean).join(' · ')}</span>
      </span>
    </div>
  )
}

/** Falls away from a building, but by less than the 2 % that codes ask there (IRC R401.3). */
export const sideFlag = ({ subject, done, have }: Pick<Row, 'subject' | 'done' | 'have'>): boolean =>
  subject !== '' && done && have !== null && have < NEEDS.good_fall_percent - 1e-9

function countWords({ item, row }: RowProps): string {
  const state = t(row.done ? 'ready.counted.done' : 'ready.counted.open')
  if (item.counted === 'fall_away') return row.have === null ? t('ready.counted.noShots') : sideFlag(row) ? t('ready.counted.fallSlight', { percent: row.have.toFixed(1) }) : t('ready.counted.fall', { percent: row.have.toFixed(1), need: row.need })
  if (item.counted === 'low_spots') return row.have === null ? t('ready.counted.noShots') : t('ready.counted.low', { deep: sayShort(Math.max(0, row.have), units.value), need: sayShort(row.need, units.value) })
  if (row.need <= 1) return state
  return t(row.done ? 'ready.counted.enough' : 'ready.counted.of', { have: row.have ?? 0, need: row.need })
}

/** A list in short, on its phase: how far, and the way in. */
export function ListLink({ job, list }: { readonly job: JobView; readonly list: ListName }) {
  const { done, total } = listProgress(job, list)
  return (
    <li class="list-link">
      <Progress done={done} total={total} label={t(`ready.list.${list}`)} />
      <LinkButton href={`#/job/${job.id}/list/${list.replace('_', '-')}`}>{t(mayWrite(ROLES['item.ticked']) ? 'ready.open' : 'ready.look')}</LinkButton>
    </li>
  )
}
