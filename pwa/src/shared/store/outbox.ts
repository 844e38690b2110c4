// Reading what waits to be sent.
import type { Event } from '../event';
import type { FieldDatabase } from './database';
import { getMeta, type Session } from './meta';
import { placeOf, type Place } from './place';

export type Batch = Place & {
  readonly session: Session;
  readonly events: readonly Event[];
  /** How many wait in all, and since when the oldest of those that stay behind when this batch goes. */
  readonly waiting: number;
  readonly nextSince: string | null;
};

/** The oldest `size` events after the first `skip`, by their clocks; null when nobody has joined. */
export async function nextBatch(db: FieldDatabase, skip: number, size: number): Promise<Batch | null> {
  const tx = db.transaction(['events', 'outbox', 'meta']);
  const [log, outbox, meta] = [tx.objectStore('events'), tx.objectStore('outbox'), tx.objectStore('meta')];
  const [session, carry, cursor, rows, waiting] = await Promise.all([
    getMeta(meta, 'session'), getMeta(meta, 'carry'), getMeta(meta, 'cursor'), outbox.index('clock').getAll(null, skip + size + 1), outbox.count(),
  ]);
  if (!session) return null;
  const events = await Promise.all(rows.slice(skip, skip + size).map(({ id }) => log.get(id)));
  const next = skip > 0 ? rows[0] : rows[size];
  return { ...placeOf(carry, cursor), session, events: events.filter((event) => event !== undefined), waiting, nextSince: next?.since ?? null };
}

/** Every event that waits. */
export async function unsentEvents(db: FieldDatabase): Promise<Event[]> {
  const tx = db.transaction(['events', 'outbox']);
  const ids = await tx.objectStore('outbox').getAllKeys();
  const events = await Promise.all(ids.map((id) => tx.objectStore('events').get(id)));
  return events.filter((event) => event !== undefined);
}
