// Joining and leaving, as far as the database is concerned: unsent work outlives both.
import type { Event } from '../event';
import type { DeviceId, PersonId } from '../events';
import { deleteAll, write, type FieldDatabase, type Open, type Writing } from './database';
import { getMeta, putMeta, type Session } from './meta';

/** Unsent work that another company's phone left here can't be sent to this one. */
const otherCompany = {
  code: 'other_company',
  message: 'This was written for another company.',
  do: 'Keep a copy, then discard it.',
};

type Tx = Writing<'events' | 'outbox' | 'rejected' | 'meta' | 'photos' | 'photoChunks'>;

/**
 * Takes a new session. Work that an earlier session left unsent goes on under the new device and person, since
 * the server takes nothing under a device that is signed out; work for another company goes to quarantine, and its
 * photos go.
 */
export async function takeSession(db: FieldDatabase, session: Session, epoch: string, at: string): Promise<void> {
  await write(db, ['events', 'outbox', 'rejected', 'meta', 'photos', 'photoChunks'], async (tx) => {
    const meta = tx.objectStore('meta');
    const before = await getMeta(meta, 'company');
    if (before !== undefined && before !== session.company.id) await setAside(tx, at);
    else await handOver(tx, session);
    await putMeta(meta, 'session', session);
    await putMeta(meta, 'company', session.company.id);
    await putMeta(meta, 'epoch', epoch);
    await putMeta(meta, 'cursor', 0);
    await meta.delete('carry');
    await meta.delete('lately');
    await meta.delete('outlook');
    await meta.delete('worked');
    await meta.delete('board');
  });
}

/**
 * Forgets who this phone belonged to, and its log. Unsent events are gone too: keep a copy first. Unsent photos stay,
 * and go when someone of the same company joins.
 */
export async function leave(db: FieldDatabase): Promise<void> {
  const names = ['events', 'outbox', 'rejected', 'raised'] as const;
  await write(db, [...names, 'meta', 'photos', 'photoChunks'], async (tx) => {
    const company = await getMeta(tx.objectStore('meta'), 'company');
    await Promise.all(names.map((name) => tx.objectStore(name).clear()));
    await tx.objectStore('meta').clear();
    if (company !== undefined) await putMeta(tx.objectStore('meta'), 'company', company);
    await dropPhotos(tx.objectStore('photos'), tx.objectStore('photoChunks'), await tx.objectStore('photos').index('waiting').getAllKeys(0));
  });
}

export async function dropPhotos(photos: Open<'photos'>, chunks: Open<'photoChunks'>, names: readonly string[]): Promise<void> {
  for (const name of names) {
    deleteAll(chunks, await chunks.index('photo').getAllKeys(name));
    await photos.delete(name);
  }
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
  await dropPhotos(tx.objectStore('photos'), tx.objectStore('photoChunks'), await tx.objectStore('photos').getAllKeys());
}
