/** The log of a job as lines to read: in order, with what was taken back and what can be. No DOM. */
import type { Event } from '../../../shared/event'
import type { EventId, PersonId, Role } from '../../../shared/events'
import { byClock } from '../../../shared/event'

/**
 * Which retracts hide their target, by the log's own rule: a retract counts when it is later than its target and is not
 * hidden itself; judged from the latest back.
 */
export function hiddenBy(log: readonly Event[]): ReadonlyMap<EventId, EventId> {
  const position = new Map([...log].sort(byClock).map((event, i) => [event.id, i]))
  const hidden = new Map<EventId, EventId>()
  for (const event of [...log].sort(byClock).reverse()) {
    if (event.kind !== 'event.retracted' || hidden.has(event.id)) continue
    const target = position.get(event.body.event)
    const own = position.get(event.id)
    if (target !== undefined && own !== undefined && target < own) hidden.set(event.body.event, event.id)
  }
  return hidden
}

/** Events that count, in order: neither retracts nor retracted. */
export function standing(log: readonly Event[]): Event[] {
  const hidden = hiddenBy(log)
  return [...log].sort(byClock).filter((event) => event.kind !== 'event.retracted' && !hidden.has(event.id))
}

export interface RecordLine {
  readonly event: Event
  readonly hidden: boolean
  /** What a touch takes back: the event, or the retract that hides it (which brings it back). Null when this person may not. */
  readonly undo: EventId | null
}

/** One line per event, retracts folded into the lines they hide. Crew take back only their own; others anyone's. */
export function recordLines(log: readonly Event[], person: PersonId | null, role: Role | null): RecordLine[] {
  const hidden = hiddenBy(log)
  const authors = new Map(log.map((event) => [event.id, event.author]))
  const may = (id: EventId): boolean => role === 'foreman' || role === 'office' || (person !== null && authors.get(id) === person)
  return [...log].sort(byClock).flatMap((event) => {
    if (event.kind === 'event.retracted') return []
    const target = hidden.get(event.id) ?? event.id
    return [{ event, hidden: hidden.has(event.id), undo: may(target) ? target : null }]
  })
}
