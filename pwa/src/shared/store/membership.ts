// Joining and leaving, as far as the database is concerned: unsent work outlives both.
import type { Event } from '../event';
import type { DeviceId, PersonId } from '../events';
import type { FieldDatabase } from './database';
import { readMeta, writeMeta, type Session } from './meta';

/** Unsent work that another company's phone left here can't be sent to this one. */
const otherCompany = {
  code: 'other_company',
  message: 'This was written for another company.',
  do: 'Keep a copy, then discard it.',
};

/**
 * Takes a new session. Work that an earlier session left unsent goes on under the new device and person, since
 * the server takes nothing under a device that is signed out; work for another company goes to quarantine.
 */
export async function takeSession(db: FieldDatabase, session: Session, epoch: string, at: string): Promise<void> {
  await db.transaction('rw', [db.events, db.outbox, db.rejected, db.meta], async () => {
    const before = await readMeta(db, 'company');
    if (before !== undefined && before !== session.company.id) await setAside(db, at);
    else await hand(db, session);
    await writeMeta(db, 'session', session);
    await writeMeta(db, 'company', session.company.id);
    await writeMeta(db, 'epoch', epoch);
    await writeMeta(db, 'cursor', 0);
    await db.meta.bulkDelete(['outlook', 'board']);
  });
}

/** Forgets who this phone belonged to, and everything sent. Unsent work is gone too: keep a copy first. */
export async function leave(db: FieldDatabase): Promise<void> {
  const stores = [db.events, db.outbox, db.rejected, db.meta, db.photos, db.photoChunks, db.raised];
  await db.transaction('rw', stores, async () => {
    for (const store of stores) await store.clear();
  });
}

async function hand(db: FieldDatabase, session: Session): Promise<void> {
  const waiting = await unsentEvents(db);
  const moved = waiting.map((event) => ({
    ...event,
    device: session.device as DeviceId,
    author: session.person as PersonId,
    clock: event.clock.slice(0, event.clock.length - session.device.length) + session.device,
  }));
  await db.events.bulkPut(moved);
  const rows = await db.outbox.bulkGet(moved.map(({ id }) => id));
  await db.outbox.bulkPut(rows.flatMap((row, index) => (row ? [{ ...row, clock: moved[index]?.clock ?? row.clock }] : [])));
}

async function setAside(db: FieldDatabase, at: string): Promise<void> {
  const waiting = await unsentEvents(db);
  await db.rejected.bulkPut(waiting.map((event) => ({ id: event.id, event, why: otherCompany, at })));
  await db.outbox.clear();
  await db.events.clear();
}

async function unsentEvents(db: FieldDatabase): Promise<Event[]> {
  const ids = await db.outbox.toCollection().primaryKeys();
  return (await db.events.bulkGet(ids)).filter((event) => event !== undefined);
}
