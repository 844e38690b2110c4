/** One load's ticket as it is typed, and what is refused or only remarked on. SI; no DOM. */
import type { AdmixtureDose, LoadId, LoadTicketed } from '../../../shared/events'
import type { LoggedLoad } from './fill'

export interface TicketDraft {
  readonly number: number | null
  readonly ticket: string
  readonly batched_at: string | null
  readonly volume_m3: number | null
  readonly slump_mm: number | null
  readonly concrete_temp_c: number | null
  readonly water_added_l: number | null
  readonly water_allowed_l: number | null
  readonly colour_bags: number | null
  /** Empty: as the mix. */
  readonly plant: string
  /** Null: as the mix. */
  readonly admixtures: readonly AdmixtureDose[] | null
}

export type TicketField = keyof TicketDraft

type Limited = keyof typeof TICKET_LIMITS
/** Tail of the word key `pour.refuse.…`. */
export type RefusalCode =
  | `${Limited}_${'negative' | 'low' | 'high'}`
  | 'number_missing' | 'batched_at_missing' | 'volume_m3_missing' | 'number_taken'
  | 'batched_later_than_now' | 'batched_after_placed' | 'batched_too_long_ago'

export interface Refusal {
  readonly field: TicketField
  readonly code: RefusalCode
  readonly other?: number
}

export const TICKET_LIMITS = {
  number: [1, 40],
  volume_m3: [0.1, 15],
  slump_mm: [0, 300],
  concrete_temp_c: [2, 45],
  water_added_l: [0, 400],
  water_allowed_l: [0, 400],
  colour_bags: [0, 200],
} as const

/** Phones' clocks and batch plants' clocks differ a little [ms]. */
const CLOCK_SLACK_MS = 3 * 60_000
/** A ticket older than this is another day's ticket [ms]. */
const OLDEST_BATCH_MS = 12 * 3_600_000

/** Entries that can't be true. Nothing is recorded while one stands. */
export function refusals(draft: TicketDraft, now: Date, others: readonly LoggedLoad[], editing?: LoggedLoad): Refusal[] {
  return [
    ...outOfRange(draft),
    ...missing(draft),
    ...numberTaken(draft, others, editing),
    ...impossibleTimes(draft, now, editing),
  ]
}

function outOfRange(draft: TicketDraft): Refusal[] {
  return (Object.keys(TICKET_LIMITS) as Limited[]).flatMap((field) => {
    const value = draft[field]
    const [least, most] = TICKET_LIMITS[field]
    if (value === null || (value >= least && value <= most)) return []
    const way = value < 0 ? 'negative' : value < least ? 'low' : 'high'
    return [{ field, code: `${field}_${way}` as const }]
  })
}

function missing(draft: TicketDraft): Refusal[] {
  const fields = ['number', 'batched_at', 'volume_m3'] as const
  return fields.filter((field) => draft[field] === null).map((field) => ({ field, code: `${field}_missing` as const }))
}

function numberTaken(draft: TicketDraft, others: readonly LoggedLoad[], editing?: LoggedLoad): Refusal[] {
  const taken = others.some((load) => load.number === draft.number && load.id !== editing?.id)
  return taken ? [{ field: 'number', code: 'number_taken', other: nextNumber(others) }] : []
}

function impossibleTimes(draft: TicketDraft, now: Date, editing?: LoggedLoad): Refusal[] {
  if (draft.batched_at === null) return []
  const batched = Date.parse(draft.batched_at)
  if (batched > now.getTime() + CLOCK_SLACK_MS) return [{ field: 'batched_at', code: 'batched_later_than_now' }]
  if (editing?.placed && batched > Date.parse(editing.placed.from)) return [{ field: 'batched_at', code: 'batched_after_placed' }]
  if (!editing && batched < now.getTime() - OLDEST_BATCH_MS) return [{ field: 'batched_at', code: 'batched_too_long_ago' }]
  return []
}

export function nextNumber(loads: readonly LoggedLoad[]): number {
  return loads.reduce((most, load) => Math.max(most, load.number), 0) + 1
}

/** A fresh ticket: the next number, volume as last time (or as ordered); everything that must be read off the ticket left open. */
export function freshTicket(loads: readonly LoggedLoad[], order?: { readonly volume_m3: number; readonly loads: number }): TicketDraft {
  const last = loads[loads.length - 1]
  return {
    number: nextNumber(loads),
    ticket: '',
    batched_at: null,
    volume_m3: last?.volume_m3 ?? (order ? order.volume_m3 / order.loads : null),
    slump_mm: null,
    concrete_temp_c: null,
    water_added_l: null,
    water_allowed_l: null,
    colour_bags: null,
    plant: '',
    admixtures: null,
  }
}

export type PlacingRefusal = 'placed_backwards' | 'placed_before_batched' | 'placed_later_than_now'

/** The refusal for placing times, or null: placed needs from ≤ to, neither before batching nor later than now. */
export function placingRefusal(batched_at: string, from: string, to: string, now: Date): PlacingRefusal | null {
  if (Date.parse(to) < Date.parse(from)) return 'placed_backwards'
  if (Date.parse(from) < Date.parse(batched_at)) return 'placed_before_batched'
  if (Date.parse(to) > now.getTime() + CLOCK_SLACK_MS) return 'placed_later_than_now'
  return null
}

/** The ticket as the log keeps it. Call it only on a draft without refusals. */
export function ticketBody(draft: TicketDraft, load: LoadId): LoadTicketed {
  const { number, ticket, batched_at, volume_m3, plant, admixtures, ...rest } = draft
  if (number === null || batched_at === null || volume_m3 === null) throw new Error('The ticket is not complete.')
  return { load, number, ticket: ticket.trim() || null, batched_at, volume_m3, ...rest, plant: plant.trim() || null, admixtures }
}

type Kept = Omit<LoadTicketed, 'load'>

/** The draft for changing a ticket already logged. */
export function draftOf(load: Kept): TicketDraft {
  const { number, ticket, batched_at, volume_m3, slump_mm, concrete_temp_c, water_added_l, water_allowed_l, colour_bags, plant, admixtures } = load
  return {
    number, ticket: ticket ?? '', batched_at, volume_m3, slump_mm: slump_mm ?? null, concrete_temp_c: concrete_temp_c ?? null,
    water_added_l: water_added_l ?? null, water_allowed_l: water_allowed_l ?? null, colour_bags: colour_bags ?? null, plant: plant ?? '', admixtures: admixtures ?? null,
  }
}
