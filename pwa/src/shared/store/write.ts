// Writing to the log: the event, its place in the outbox and the clock, in one strict transaction.
import type { Event } from '../event';
import type { FieldDatabase } from './database';
import { readMeta, writeMeta, type ClockState } from './meta';

/** Puts own events, their outbox rows and the clock as it stands after them. Safe to run twice. */
export async function writeOwn(db: FieldDatabase, events: readonly Event[], since: string, clock: ClockState): Promise<void> {
  await db.transaction('rw', db.events, db.outbox, db.meta, async () => {
    await db.events.bulkPut([...events]);
    await db.outbox.bulkPut(events.map((event) => ({ id: event.id, clock: event.clock, since })));
    const stored = await readMeta(db, 'clock');
    if (stored === undefined || isLater(clock, stored)) await writeMeta(db, 'clock', clock);
  });
}

export const isLater = (one: ClockState, other: ClockState): boolean =>
  one.ms > other.ms || (one.ms === other.ms && one.counter > other.counter);

/** Moves a rejected event out of quarantine for good. */
export async function discardRejected(db: FieldDatabase, id: string): Promise<void> {
  await db.rejected.delete(id);
}

/** Puts a rejected event back in the log and the outbox, to be offered again. */
export async function offerAgain(db: FieldDatabase, id: string, since: string): Promise<Event | null> {
  return db.transaction('rw', db.events, db.outbox, db.rejected, async () => {
    const rejected = await db.rejected.get(id);
    if (!rejected) return null;
    await db.rejected.delete(id);
    await db.events.put(rejected.event);
    await db.outbox.put({ id, clock: rejected.event.clock, since });
    return rejected.event;
  });
}
