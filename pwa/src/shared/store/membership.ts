// Joining and leaving, as far as the database is concerned: unsent work outlives both.
import type { Event } from '../event';
import type { DeviceId, PersonId } from '../events';
import { write, type FieldDatabase, type Writing } from './database';
import { getMeta, putMeta, type Session } from './meta';

/** Unsent work that another company's phone left here can't be sent to this one. */
const otherCompany = {
  code: 'other_company',
  message: 'This was written for another company.',
  do: 'Keep a copy, then discard it.',
};

type Tx = Writing<'events' | 'outbox' | 'rejected' | 'meta'>;

/**
 * Takes a new session. Work that an earlier session left unsent goes on under the new device and person, since
 * the server takes nothing under a device that is signed out; work for another company goes to quarantine.
 */
export async function takeSession(db: FieldDatabase, session: Session, epoch: string, at: string): Promise<void> {
  await write(db, ['events', 'outbox', 'rejected', 'meta'], async (tx) => {
    const meta = tx.objectStore('meta');
    const before = await getMeta(meta, 'company');
    if (before !== undefined && before !== session.company.id) await setAside(tx, at);
    else await handOver(tx, session);
    await putMeta(meta, 'session', session);
    await putMeta(meta, 'company', session.company.id);
    await putMeta(meta, 'epoch', epoch);
    await putMeta(meta, 'cursor', 0);
    await meta.delete('outlook');
    await meta.delete('board');
  });
}

/** Forgets who this phone belonged to, and everything sent. Unsent work is gone too: keep a copy first. */
export async function leave(db: FieldDatabase): Promise<void> {
  const names = ['events', 'outbox', 'rejected', 'meta', 'photos', 'photoChunks', 'raised'] as const;
  await write(db, [...names], async (tx) => {
    await Promise.all(names.map((name) => tx.objectStore(name).clear()));
  });
}

async function handOver(tx: Tx, session: Session): Promise<void> {
  const rows = await tx.objectStore('outbox').getAll();
  for (const row of rows) {
    const event = await tx.objectStore('events').get(row.id);
    if (!event) continue;
    const moved = underNewDevice(event, session);
    await tx.objectStore('events').put(moved);
    await tx.objectStore('outbox').put({ ...row, clock: moved.clock });
  }
}

function underNewDevice(event: Event, session: Session): Event {
  const clock = event.clock.slice(0, event.clock.length - event.device.length) + session.device;
  return { ...event, clock, device: session.device as DeviceId, author: session.person as PersonId };
}

async function setAside(tx: Tx, at: string): Promise<void> {
  const ids = await tx.objectStore('outbox').getAllKeys();
  for (const id of ids) {
    const event = await tx.objectStore('events').get(id);
    if (event) await tx.objectStore('rejected').put({ id, event, why: otherCompany, at });
  }
  await tx.objectStore('outbox').clear();
  await tx.objectStore('events').clear();
}
