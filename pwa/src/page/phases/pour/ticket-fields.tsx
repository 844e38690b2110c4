import { useState } from 'preact/hooks'
import type { JobView } from '../../../shared/job'
import { formatDuration } from '../../../shared/units'
import { Button, TextField } from '../../look'
import { useSettled } from '../../look/settled'
import { now } from '../../shell/now'
import { units } from '../../shell/preferences'
import { t } from '../../words'
import { Admixtures } from '../layout/admixtures'
import { shownAs } from '../quantity'
import { timeOf } from '../who'
import type { TicketDraft, TicketField } from './ticket'
import { PAD_FIELDS, PAD_QUANTITY, type PadField, type Ticket } from './use-ticket'

/** Tail of the word key of each field's name. */
export const FIELD_WORD = {
  batched_at: 'batched', volume_m3: 'volume', slump_mm: 'slump', concrete_temp_c: 'temp',
  water_added_l: 'water', water_allowed_l: 'allowed', colour_bags: 'bags', number: 'number',
} as const satisfies Record<PadField, string>

interface FieldsProps {
  readonly job: JobView
  readonly ticket: Ticket
  readonly id: string
  readonly refusal: (field: TicketField) => string | null
  readonly onNext: (field: PadField) => void
}

/** The ticket's numbers, two to a row, in the order a ticket is read. */
export function TicketFields({ job, ticket, id, refusal, onNext }: FieldsProps) {
  const own = (field: PadField): preact.JSX.Element => <OwnField key={field} id={`${id}-${field}`} field={field} ticket={ticket} refusal={refusal(field)} onNext={() => onNext(field)} />
  return (
    <>
      {own('batched_at')}
      <BatchedAgo job={job} ticket={ticket} />
      <div class="ticket-grid">{PAD_FIELDS.filter((field) => field !== 'batched_at').map(own)}</div>
      <TextField label={t('pour.ticket.paper')} value={ticket.value.ticket} maxLength={40} onCommit={(text) => ticket.put({ ticket: text })} onType={(text) => ticket.put({ ticket: text })} />
    </>
  )
}

/** Whether fingers are what this screen is touched with: then the keys are ours, and the phone's own stay away. */
export const fingers = (): boolean => typeof matchMedia === 'function' && matchMedia('(any-pointer: coarse)').matches

interface OwnFieldProps {
  readonly id: string
  readonly field: PadField
  readonly ticket: Ticket
  readonly refusal: string | null
  readonly onNext: () => void
}

function OwnField({ id, field, ticket, refusal, onNext }: OwnFieldProps) {
  const quantity = PAD_QUANTITY[field]
  const wrong = useSettled(refusal)
  return (
    <div class={`look-field ticket-field${wrong ? ' look-field-wrong' : ''}`}>
      <label class="look-field-label" for={id}>{t(`pour.ticket.${FIELD_WORD[field]}`)}</label>
      <span class="look-number">
        <input
          id={id}
          class="look-input time"
          type="text"
          inputMode={fingers() ? 'none' : 'decimal'}
          autoComplete="off"
          value={ticket.textOf(field)}
          aria-invalid={wrong ? true : undefined}
          aria-describedby={`${id}-say`}
          onFocus={() => ticket.enter(field)}
          onBlur={() => ticket.leave(field)}
          onInput={(event) => ticket.type(field, event.currentTarget.value)}
          onKeyDown={(event) => {
            if (event.key !== 'Enter') return
            event.preventDefault()
            onNext()
          }}
        />
        {quantity && <span class="look-number-unit">{shownAs(quantity, units.value).unit}</span>}
      </span>
      <span id={`${id}-say`} class="look-field-say">{wrong && <span class="refusal" role="alert">{wrong}</span>}</span>
    </div>
  )
}

const AGO_MIN = [10, 20, 30, 45]

/** The clock of the load starts at its batch time: "20 min ago" with one touch; what was understood stands beside it. */
function BatchedAgo({ job, ticket }: { readonly job: JobView; readonly ticket: Ticket }) {
  const { batched_at } = ticket.value
  const ago = (minutes: number): string => new Date(now.value.getTime() - minutes * 60_000).toISOString()
  const age = batched_at ? Math.round((now.value.getTime() - Date.parse(batched_at)) / 60_000) : null
  return (
    <div class="stack">
      <div class="ago-keys" role="group" aria-label={t('pour.ticket.batched')}>
        {AGO_MIN.map((minutes) => <Button key={minutes} onPress={() => ticket.offer('batched_at', ago(minutes))}>{t('pour.ticket.ago', { minutes })}</Button>)}
      </div>
      <p class="soft">{batched_at && age !== null && age >= 0 ? t('pour.ticket.understood', { time: timeOf(job, batched_at), age: formatDuration(age) }) : t('pour.ticket.batchedHint')}</p>
    </div>
  )
}

/** Plant and admixtures, asked for only where the ticket differs from the mix. */
export function Differs({ job, value, put }: { readonly job: JobView; readonly value: TicketDraft; readonly put: (part: Partial<TicketDraft>) => void }) {
  const [open, setOpen] = useState(value.plant !== '' || value.admixtures !== null)
  const rows = value.admixtures ?? job.mix?.admixtures ?? []
  if (!open) return <div><Button kind="quiet" expanded={false} onPress={() => setOpen(true)}>{t('pour.ticket.differs')}</Button></div>
  return (
    <section class="stack" aria-label={t('pour.ticket.differs')}>
      <TextField label={t('pour.ticket.plant')} value={value.plant} maxLength={80} hint={job.mix?.plant ? t('pour.ticket.plantHint', { plant: job.mix.plant }) : t('pour.ticket.asMix')} onCommit={(plant) => put({ plant })} onType={(plant) => put({ plant })} />
      <Admixtures rows={rows} onChange={(admixtures) => put({ admixtures })} />
      {value.admixtures !== null && <div><Button kind="quiet" onPress={() => put({ admixtures: null })}>{t('pour.ticket.backToMix')}</Button></div>}
    </section>
  )
}
