import { useState } from 'preact/hooks'
import type { LoadId } from '../../../shared/events'
import type { JobView, Load } from '../../../shared/job'
import { newId } from '../../../shared/uuid'
import { Button, NumberField, TextField } from '../../look'
import { now } from '../../shell/now'
import { units } from '../../shell/preferences'
import { t } from '../../words'
import { act } from '../act'
import { useForm } from '../form'
import { loadIdFor, mixDraft } from '../layout/state'
import { waterEffect } from '../layout/take-off'
import { say } from '../quantity'
import { QuantityField } from '../quantity-field'
import { nearestInstant, wallTime } from '../wall-clock'
import { zoneOf } from '../who'
import { draftOf, freshTicket, refusals, remarks, ticketBody, TICKET_LIMITS, type TicketDraft, type TicketField } from './ticket'

export interface TicketFormProps {
  readonly job: JobView
  /** The load being changed; none for a new ticket. */
  readonly load?: Load
  /** A placement that still lacks its ticket. */
  readonly forLoad?: LoadId
  readonly onDone: () => void
}

/** One ticket, with big keys: what can be guessed is filled in, what can't be true is refused at its field. */
export function TicketForm({ job, load, forLoad, onDone }: TicketFormProps) {
  const form = useForm<TicketDraft>(`${job.id}.ticket.${load?.id ?? forLoad ?? 'new'}`, () => (load ? draftOf(load) : freshTicket(job.loads, job.order ?? undefined)))
  const [tried, setTried] = useState(false)
  const { value, put } = form
  const wrong = refusals(value, now.value, job.loads, load)
  const worth = remarks(value, now.value, job.loads, load)
  // A field that holds something impossible says so at once; one that is empty says so when the ticket is saved.
  const rise = waterEffect(value.water_added_l ?? 0, value.volume_m3 ?? 0, mixDraft(job.mix).cement_kg_m3).w_cm_rise
  const refusal = (field: TicketField): string | null => {
    const found = wrong.find((one) => one.field === field && (tried || !one.code.endsWith('_missing')))
    return found ? t(`pour.refuse.${found.code}`, { other: found.other ?? '', ...limitsOf(field) }) : null
  }
  const remark = (field: TicketField): string | null => {
    const found = worth.find((one) => one.field === field)
    return found ? t(`pour.remark.${found.code}`, { other: found.other ?? '', rise: rise.toFixed(3) }) : null
  }
  const leave = (): void => {
    form.clear()
    onDone()
  }
  const save = async (): Promise<void> => {
    setTried(true)
    if (wrong.length || value.number === null) return
    const id = load?.id ?? forLoad ?? loadIdFor(job, value.number, newId)
    if (await act(job.id, 'load.ticketed', ticketBody(value, id), t(load ? 'pour.did.changed' : 'pour.did.ticket', { number: value.number }))) leave()
  }
  return (
    <div class="stack block">
      <h3>{load ? t('pour.ticket.change', { number: load.number }) : t('pour.ticket.new')}</h3>
      <BatchedField job={job} value={value} put={put} refusal={refusal('batched_at')} remark={remark('batched_at')} />
      <TicketFields job={job} value={value} put={put} refusal={refusal} remark={remark} />
      <div class="actions">
        <Button kind="main" onPress={() => void save()}>{load ? t('layout.save') : t('pour.ticket.save', { number: value.number ?? '' })}</Button>
        <Button kind="quiet" onPress={leave}>{t('layout.drop')}</Button>
      </div>
      {tried && wrong.length > 0 && <p class="refusal" role="alert">{t('pour.ticket.notYet')}</p>}
    </div>
  )
}

/** The limits of a field in the person's units, for the refusal's words. */
function limitsOf(field: TicketField): { readonly least: string; readonly most: string } {
  const quantity = { volume_m3: 'volume', slump_mm: 'slump', concrete_temp_c: 'temp', water_added_l: 'water' } as const
  if (field === 'number') return { least: String(TICKET_LIMITS.number[0]), most: String(TICKET_LIMITS.number[1]) }
  if (!(field in quantity)) return { least: '', most: '' }
  const known = field as keyof typeof quantity
  const [least, most] = TICKET_LIMITS[known]
  return { least: say(least, quantity[known], units.value), most: say(most, quantity[known], units.value) }
}

interface PartProps {
  readonly job: JobView
  readonly value: TicketDraft
  readonly put: (part: Partial<TicketDraft>) => void
}

const AGO_MIN = [10, 20, 30, 45, 60]

/** The clock of the load starts here: typed off the ticket, or "20 min ago" with one touch. */
function BatchedField({ job, value, put, refusal, remark }: PartProps & { readonly refusal: string | null; readonly remark: string | null }) {
  const zone = zoneOf(job)
  const shown = value.batched_at ? wallTime(new Date(value.batched_at), zone) : ''
  const near = value.batched_at && Math.abs(Date.parse(value.batched_at) - now.value.getTime()) > 12 * 3_600_000 ? new Date(value.batched_at) : now.value
  return (
    <div class={`stack${refusal ? ' refused' : ''}`}>
      <TextField label={t('pour.ticket.batched')} type="time" value={shown} hint={t('pour.ticket.batchedHint')} onCommit={(text) => put({ batched_at: nearestInstant(text, near, zone)?.toISOString() ?? null })} />
      <div class="keys" role="group" aria-label={t('pour.ticket.batched')}>
        {AGO_MIN.map((minutes) => (
          <Button key={minutes} onPress={() => put({ batched_at: new Date(Math.floor(now.value.getTime() / 60_000) * 60_000 - minutes * 60_000).toISOString() })}>
            {t('pour.ticket.ago', { minutes })}
          </Button>
        ))}
      </div>
      {refusal && <p class="refusal" role="alert">{refusal}</p>}
      {remark && !refusal && <p class="remark">{remark}</p>}
    </div>
  )
}

type Saying = (field: TicketField) => string | null

function TicketFields({ job, value, put, refusal, remark }: PartProps & { readonly refusal: Saying; readonly remark: Saying }) {
  const last = [...job.loads].reverse().find((load) => load.concrete_temp_c !== null && load.number !== value.number)
  const wrongNumber = refusal('number')
  return (
    <div class="pair">
      <div class={wrongNumber ? 'refused' : undefined}>
        <NumberField label={t('pour.ticket.number')} value={value.number} step={1} decimals={0} onCommit={(number) => put({ number: Math.round(number) })} onClear={() => put({ number: null })} />
        {wrongNumber && <p class="refusal" role="alert">{wrongNumber}</p>}
      </div>
      <TextField label={t('pour.ticket.paper')} value={value.ticket} maxLength={40} onCommit={(ticket) => put({ ticket })} />
      <QuantityField label={t('pour.ticket.volume')} quantity="volume" value={value.volume_m3} onCommit={(volume_m3) => put({ volume_m3 })} refusal={refusal('volume_m3')} />
      <div class="stack">
        <QuantityField label={t('pour.ticket.temp')} quantity="temp" value={value.concrete_temp_c} onCommit={(concrete_temp_c) => put({ concrete_temp_c })} refusal={refusal('concrete_temp_c')} remark={remark('concrete_temp_c')} hint={t('pour.ticket.tempHint')} />
        {last && value.concrete_temp_c === null && (
          <Button onPress={() => put({ concrete_temp_c: last.concrete_temp_c })}>{t('pour.ticket.asLast', { number: last.number, value: say(last.concrete_temp_c ?? 0, 'temp', units.value) })}</Button>
        )}
      </div>
      <QuantityField label={t('pour.ticket.slump')} quantity="slump" value={value.slump_mm} onCommit={(slump_mm) => put({ slump_mm })} refusal={refusal('slump_mm')} remark={remark('slump_mm')} />
      <QuantityField label={t('pour.ticket.water')} quantity="water" value={value.water_added_l} onCommit={(water_added_l) => put({ water_added_l })} refusal={refusal('water_added_l')} remark={remark('water_added_l')} hint={t('pour.ticket.waterHint')} />
    </div>
  )
}
