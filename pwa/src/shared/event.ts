/** The event as it stands in the log and goes over the wire. It never changes once written. */
import type { Bodies, DeviceId, EventId, Instant, JobId, Kind, PersonId } from './events'

export interface Envelope<K extends string, Body> {
  readonly id: EventId
  readonly job: JobId
  readonly kind: K
  readonly body: Body
  /** When it happened: UTC with milliseconds and `Z`, corrected by the measured clock offset. */
  readonly at: Instant
  /** Hybrid logical clock; orders events as plain text, with the id as the tie-break. */
  readonly clock: string
  readonly device: DeviceId
  readonly author: PersonId
  /** The phone's raw reading; null when nothing was corrected. */
  readonly raw_at: Instant | null
}

/** An event of a known kind; narrowing on `kind` narrows the body. */
export type Event<K extends Kind = Kind> = { [P in K]: Envelope<P, Bodies[P]> }[K]

/** What the fold reads: any event, also of a kind that this version does not know yet. */
export type Logged = Omit<Envelope<string, object>, 'raw_at'>

/** An event as the server hands it out. */
export type Received = Envelope<string, object> & { readonly seq: number; readonly received_at: Instant }

/** Whether an event comes before another. Clocks and ids are ASCII, so plain text order is byte order. */
export function before(a: Pick<Logged, 'clock' | 'id'>, b: Pick<Logged, 'clock' | 'id'>): boolean {
  return a.clock < b.clock || (a.clock === b.clock && a.id < b.id)
}

/** `before` for `sort`. */
export function byClock(a: Pick<Logged, 'clock' | 'id'>, b: Pick<Logged, 'clock' | 'id'>): number {
  return before(a, b) ? -1 : before(b, a) ? 1 : 0
}

/** A moment as the log writes it. Throws RangeError for an invalid date. */
export function instant(moment: Date | number): Instant {
  return new Date(moment).toISOString()
}
