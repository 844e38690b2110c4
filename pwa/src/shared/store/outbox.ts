// Reading what waits to be sent.
import type { Event } from '../event';
import type { FieldDatabase, Waiting } from './database';

export type Batch = {
  readonly events: readonly Event[];
  /** How many wait in all. */
  readonly waiting: number;
  /** The oldest of those that stay behind when this batch goes. */
  readonly next: Waiting | null;
};

/** The oldest `size` events after the first `skip`, by their clocks. */
export async function nextBatch(db: FieldDatabase, skip: number, size: number): Promise<Batch> {
  const tx = db.transaction(['events', 'outbox']);
  const outbox = tx.objectStore('outbox');
  const rows = await outbox.index('clock').getAll(null, skip + size + 1);
  const waiting = await outbox.count();
  const chosen = rows.slice(skip, skip + size);
  const events = await Promise.all(chosen.map(({ id }) => tx.objectStore('events').get(id)));
  const next = skip > 0 ? rows[0] : rows[size];
  return { events: events.filter((event) => event !== undefined), waiting, next: next ?? null };
}

/** Every event that waits. */
export async function unsentEvents(db: FieldDatabase): Promise<Event[]> {
  const tx = db.transaction(['events', 'outbox']);
  const ids = await tx.objectStore('outbox').getAllKeys();
  const events = await Promise.all(ids.map((id) => tx.objectStore('events').get(id)));
  return events.filter((event) => event !== undefined);
}
