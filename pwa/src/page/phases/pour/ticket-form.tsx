import { useEffect, useId, useState } from 'preact/hooks'
import type { LoadId } from '../../../shared/events'
import type { JobView, Load } from '../../../shared/job'
import { newId } from '../../../shared/uuid'
import { Button } from '../../look'
import { now } from '../../shell/now'
import { units } from '../../shell/preferences'
import { t } from '../../words'
import { act } from '../act'
import { loadIdFor } from '../layout/state'
import { say } from '../quantity'
import { against } from './against'
import { matchWords, type MatchLoad } from './match'
import { MatchList } from './match-list'
import { PadStrip } from './pad-strip'
import { Differs, fingers, TicketFields } from './ticket-fields'
import { refusals, ticketBody, TICKET_LIMITS, type TicketDraft, type TicketField } from './ticket'
import { PAD_FIELDS, PAD_QUANTITY, useTicket, type PadField } from './use-ticket'
import './style.css'

export interface TicketFormProps {
  readonly job: JobView
  /** The load being changed; none for a new ticket. */
  readonly load?: Load
  /** A placement that still lacks its ticket. */
  readonly forLoad?: LoadId
  /** Saved, with the load it is of; or left, with none. */
  readonly onDone: (saved?: LoadId) => void
}

/** One ticket, with big keys: what can be guessed is offered, what can't be true is refused at its field, what stands out is said while it is typed. */
export function TicketForm({ job, load, forLoad, onDone }: TicketFormProps) {
  const ticket = useTicket(job, load, forLoad)
  const id = useId()
  const [tried, setTried] = useState(false)
  const { value } = ticket
  useInSight(id, ticket.active)
  const wrong = refusals(value, now.value, job.loads, load)
  const words = matchWords(useSettledDraft(value, load, ticket.active), against(job, now.value))
  // A field that holds something impossible says so when it is left; one that is empty, when the ticket is saved.
  const refusal = (field: TicketField): string | null => {
    if (PAD_FIELDS.includes(field as PadField) && ticket.garbled(field as PadField)) return t(field === 'batched_at' ? 'pour.refuse.not_a_time' : 'look.number.not')
    const found = wrong.find((one) => one.field === field && (tried || !one.code.endsWith('_missing')))
    return found && ticket.active !== field ? t(`pour.refuse.${found.code}`, { other: found.other ?? '', ...limitsOf(field) }) : null
  }
  const leave = (saved?: LoadId): void => {
    ticket.clear()
    onDone(saved)
  }
  const save = async (): Promise<void> => {
    setTried(true)
    if (wrong.length || ticket.anyGarbled || value.number === null) return
    const key = load?.id ?? forLoad ?? loadIdFor(job, value.number, newId)
    if (await act(job.id, 'load.ticketed', ticketBody(value, key), t(load ? 'pour.did.changed' : 'pour.did.ticket', { number: value.number }))) leave(key)
  }
  return (
    <div class="stack block ticket">
      <h3>{load ? t('pour.ticket.change', { number: load.number }) : t('pour.ticket.new')}</h3>
      <TicketFields job={job} ticket={ticket} id={id} refusal={refusal} onNext={(field) => next(id, field)} />
      <Differs job={job} value={value} put={ticket.put} />
      <MatchList words={words} job={job} />
      {tried && (wrong.length > 0 || ticket.anyGarbled) && <p class="refusal" role="alert">{t('pour.ticket.notYet')}</p>}
      <div class="actions" id={`${id}-save`}>
        <Button kind="main" onPress={() => void save()}>{load ? t('layout.save') : t('pour.ticket.save', { number: value.number ?? '' })}</Button>
        <Button kind="quiet" onPress={() => leave()}>{t('layout.drop')}</Button>
      </div>
      <PadStrip job={job} ticket={ticket} words={words} {...(load ? { editing: load.id } : {})} onNext={(field) => next(id, field)} />
    </div>
  )
}

/** On to the next field; from the last to the key that saves. */
function next(id: string, from: PadField): void {
  const to = PAD_FIELDS[PAD_FIELDS.indexOf(from) + 1]
  const field = document.getElementById(to ? `${id}-${to}` : `${id}-save`)
  const target = to ? field : field?.querySelector('button')
  target?.focus()
}

/** Keeps the field in hand clear of the keys, which come up under it. */
function useInSight(id: string, active: PadField | null): void {
  useEffect(() => {
    if (active && fingers()) document.getElementById(`${id}-${active}`)?.scrollIntoView({ block: 'nearest' })
  }, [id, active])
}

/** How long a key must be the last one before the load is judged by it: half a number is not a fault [ms]. */
const SETTLED_MS = 700

/** The load as typed, without what can't be true, once the fingers rest. */
function useSettledDraft(draft: TicketDraft, load: Load | undefined, active: string | null): MatchLoad {
  const text = JSON.stringify(draft)
  const [settled, setSettled] = useState(text)
  useEffect(() => {
    const timer = setTimeout(() => setSettled(text), active ? SETTLED_MS : 0)
    return () => clearTimeout(timer)
  }, [text, active])
  const typed = JSON.parse(settled) as TicketDraft
  const possible = (field: keyof typeof TICKET_LIMITS): number | null => {
    const value = typed[field]
    const [least, most] = TICKET_LIMITS[field]
    return value !== null && value >= least && value <= most ? value : null
  }
  return {
    ...typed, ...(load ? { id: load.id } : {}), placed: load?.placed ?? null, plant: typed.plant.trim() || null,
    slump_mm: possible('slump_mm'), concrete_temp_c: possible('concrete_temp_c'), volume_m3: possible('volume_m3'),
    water_added_l: possible('water_added_l'), water_allowed_l: possible('water_allowed_l'), colour_bags: possible('colour_bags'),
  }
}

/** The limits of a field in the person's units, for the refusal's words. */
function limitsOf(field: TicketField): { readonly least: string; readonly most: string } {
  if (!(field in TICKET_LIMITS)) return { least: '', most: '' }
  const [least, most] = TICKET_LIMITS[field as keyof typeof TICKET_LIMITS]
  const quantity = PAD_QUANTITY[field as PadField]
  const words = (value: number): string => (quantity ? say(value, quantity, units.value) : String(value))
  return { least: words(least), most: words(most) }
}
