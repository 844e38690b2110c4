import { useRef, useState } from 'preact/hooks'
import type { LoadId } from '../../../shared/events'
import type { JobView, Load } from '../../../shared/job'
import { readNumber } from '../../look/number'
import { now } from '../../shell/now'
import { units } from '../../shell/preferences'
import { useForm } from '../form'
import { rounded, shownAs, toSi, type Quantity } from '../quantity'
import { zoneOf } from '../who'
import { batchText, readBatchTime } from './batch-time'
import { pressKey, type PadKey } from './keys'
import { draftOf, freshTicket, type TicketDraft } from './ticket'

export type PadField = 'batched_at' | 'volume_m3' | 'slump_mm' | 'concrete_temp_c' | 'water_added_l' | 'water_allowed_l' | 'colour_bags' | 'number'

/** From field to field, as a ticket is read. */
export const PAD_FIELDS: readonly PadField[] = ['batched_at', 'volume_m3', 'slump_mm', 'concrete_temp_c', 'water_added_l', 'water_allowed_l', 'colour_bags', 'number']

export const PAD_QUANTITY: Readonly<Partial<Record<PadField, Quantity>>> = {
  volume_m3: 'volume', slump_mm: 'slump', concrete_temp_c: 'temp', water_added_l: 'water', water_allowed_l: 'water',
}

export interface Ticket {
  readonly value: TicketDraft
  readonly put: (part: Partial<TicketDraft>) => void
  readonly clear: () => void
  /** The field that is typed into. */
  readonly active: PadField | null
  /** The text in a field as it stands. */
  readonly textOf: (field: PadField) => string
  readonly garbled: (field: PadField) => boolean
  readonly anyGarbled: boolean
  readonly enter: (field: PadField) => void
  readonly leave: (field: PadField) => void
  readonly type: (field: PadField, text: string) => void
  readonly press: (key: PadKey) => void
  readonly offer: (field: PadField, value: number | string) => void
}

interface Typing {
  readonly field: PadField
  readonly text: string
  /** Nothing typed yet: the first digit replaces what stands there. */
  readonly fresh: boolean
}

/** One ticket as it is typed: every key is kept at once, so that a call, a reload or a dead battery loses nothing. */
export function useTicket(job: JobView, load: Load | undefined, forLoad: LoadId | undefined): Ticket {
  const { value, put, clear } = useForm<TicketDraft>(`${job.id}.ticket.${load?.id ?? forLoad ?? 'new'}`, () => (load ? draftOf(load) : freshTicket(job.loads, job.order ?? undefined)))
  const [typing, setTyping] = useState<Typing | null>(null)
  const [bad, setBad] = useState<Readonly<Partial<Record<PadField, string>>>>({})
  // Keys come faster than draws: each adds to the latest text.
  const latest = useRef(typing)
  const hold = (next: Typing | null): void => {
    latest.current = next
    setTyping(next)
  }
  const zone = zoneOf(job)
  const shown = (field: PadField): string => (field === 'batched_at' ? batchText(value.batched_at, zone) : showNumber(field, value[field]))
  const textOf = (field: PadField): string => (typing?.field === field ? typing.text : (bad[field] ?? shown(field)))
  const take = (field: PadField, text: string): void => {
    const read = readField(field, text, load?.batched_at ?? null, zone)
    setBad((before) => ({ ...before, [field]: read === undefined ? text : undefined }))
    put({ [field]: read ?? null })
  }
  const type = (field: PadField, text: string): void => {
    hold({ field, text, fresh: false })
    take(field, text)
  }
  return {
    value, put, clear, type, textOf,
    active: typing?.field ?? null,
    garbled: (field) => bad[field] !== undefined && typing?.field !== field,
    anyGarbled: Object.values(bad).some((text) => text !== undefined),
    enter: (field) => hold({ field, text: textOf(field), fresh: true }),
    leave: (field) => { if (latest.current?.field === field) hold(null) },
    press: (key) => {
      const at = latest.current
      if (at) type(at.field, pressKey(at.text, key, { point: PAD_QUANTITY[at.field] !== undefined || at.field === 'colour_bags', fresh: at.fresh }))
    },
    offer: (field, given) => {
      setBad((before) => ({ ...before, [field]: undefined }))
      put({ [field]: given })
      const text = typeof given === 'string' ? batchText(given, zone) : showNumber(field, given)
      if (latest.current?.field === field) hold({ field, text, fresh: true })
    },
  }
}

function showNumber(field: PadField, value: number | string | null): string {
  if (typeof value !== 'number') return ''
  const quantity = PAD_QUANTITY[field]
  if (!quantity) return String(Number(value.toFixed(2)))
  const shown = shownAs(quantity, units.value)
  return String(Number(rounded(value, shown).toFixed(shown.decimals)))
}

/** The value meant in SI (an instant for the batch time); null for an empty field, undefined for text that is none. */
function readField(field: PadField, text: string, kept: string | null, zone: string): number | string | null | undefined {
  if (text.trim() === '') return null
  if (field === 'batched_at') {
    const near = kept !== null && now.value.getTime() - Date.parse(kept) > 12 * 3_600_000 ? new Date(kept) : now.value
    return readBatchTime(text, near, zone)?.toISOString()
  }
  const { value, problem } = readNumber(text, {})
  if (problem || value === null) return undefined
  if (field === 'number') return Math.round(value)
  const quantity = PAD_QUANTITY[field]
  return quantity ? toSi(value, shownAs(quantity, units.value)) : value
}
