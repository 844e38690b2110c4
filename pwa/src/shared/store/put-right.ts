// What was written before the phone's clock was known to be wrong, and was not sent yet, gets right times.
import { readClock } from '../clock';
import { instant, type Event } from '../event';
import { putAll, write, type FieldDatabase } from './database';

/** Stamped by the raw clock: its time is that of its place in the order. A time that a person gave is another, and stays. */
const byRawClock = ({ clock, at, raw_at }: Event): boolean => raw_at === null && Date.parse(at) === readClock(clock).ms;

/** Moves `at` of the unsent events by `offsetMs` and keeps the raw reading; gives the events that changed. */
export async function putRight(db: FieldDatabase, offsetMs: number): Promise<Event[]> {
  if (offsetMs === 0) return [];
  return write(db, ['events', 'outbox'], async (tx) => {
    const log = tx.objectStore('events');
    const ids = await tx.objectStore('outbox').getAllKeys();
    const waiting = await Promise.all(ids.map((id) => log.get(id)));
    const changed = waiting
      .filter((event): event is Event => event !== undefined && byRawClock(event))
      .map((event) => ({ ...event, at: instant(Date.parse(event.at) + offsetMs), raw_at: event.at }));
    putAll(log, changed);
    return changed;
  });
}
