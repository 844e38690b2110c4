// Writing to the log: the event, its place in the outbox and the clock, in one strict transaction.
import type { Event } from '../event';
import { putAll, write, type FieldDatabase, type Rejected } from './database';
import { getMeta, putMeta, type ClockState } from './meta';

/** Puts own events, their outbox rows and the clock as it stands after them. Safe to run twice. */
export async function writeOwn(db: FieldDatabase, events: readonly Event[], since: string, clock: ClockState): Promise<void> {
  await write(db, ['events', 'outbox', 'meta'], async (tx) => {
    const [log, outbox, meta] = [tx.objectStore('events'), tx.objectStore('outbox'), tx.objectStore('meta')];
    putAll(log, events);
    putAll(outbox, events.map(({ id, clock: stamped }) => ({ id, clock: stamped, since })));
    const stored = await getMeta(meta, 'clock');
    if (stored === undefined || isLater(clock, stored)) await putMeta(meta, 'clock', clock);
  });
}

export const isLater = (one: ClockState, other: ClockState): boolean =>
  one.ms > other.ms || (one.ms === other.ms && one.counter > other.counter);

/** Keeps what the server would not take, with its reasons. */
export async function keepRejected(db: FieldDatabase, rejected: readonly Rejected[]): Promise<void> {
  await write(db, ['rejected'], async (tx) => putAll(tx.objectStore('rejected'), rejected));
}

/** Moves a rejected event out of quarantine for good. */
export async function discardRejected(db: FieldDatabase, id: string): Promise<void> {
  await write(db, ['rejected'], (tx) => tx.objectStore('rejected').delete(id));
}

/** Puts a rejected event back in the log and the outbox, to be offered again. */
export async function offerAgain(db: FieldDatabase, id: string, since: string): Promise<Event | null> {
  return write(db, ['events', 'outbox', 'rejected'], async (tx) => {
    const rejected = await tx.objectStore('rejected').get(id);
    if (!rejected) return null;
    await tx.objectStore('rejected').delete(id);
    await tx.objectStore('events').put(rejected.event);
    await tx.objectStore('outbox').put({ id, clock: rejected.event.clock, since });
    return rejected.event;
  });
}
