// Which jobs the phone of a company of many jobs holds: begun, taken on and let go, each in one transaction with the
// entries, so that a job named as held is complete at every moment the phone may be killed.
import { Clock, readClock } from '../clock';
import type { Event } from '../event';
import type { JobId } from '../events';
import { deleteAll, putAll, write, type FieldDatabase, type Open, type Writing } from './database';
import { dropPhotos } from './membership';
import { getMeta, putMeta, readMeta, type Carry } from './meta';

/** From now on this phone holds the jobs that are here, complete as far as the log was read. False when it did already. */
export async function beginToCarry(db: FieldDatabase): Promise<boolean> {
  return write(db, ['events', 'meta'], async (tx) => {
    const meta = tx.objectStore('meta');
    if ((await getMeta(meta, 'carry')) || !(await getMeta(meta, 'session'))) return false;
    const cursor = (await getMeta(meta, 'cursor')) ?? 0;
    await putMeta(meta, 'carry', { held: await jobsIn(tx.objectStore('events')), cursor });
    await putMeta(meta, 'cursor', 0); // an older app that gets hold of this reads all again, and has no gap
    return true;
  });
}

/** All of a job's entries that the server had at number `upTo`, told to `device` under `epoch`. */
export type Whole = { readonly device: string; readonly epoch: string; readonly upTo: number; readonly events: readonly Event[] };
/**
 * `behind`: the log was read on meanwhile, so what came after `upTo` is to be asked for. `apart`: the server or the
 * person is another by now, or all jobs are held. `unknown`: neither the server nor this phone has an entry of it.
 */
export type Taken = 'held' | 'behind' | 'apart' | 'unknown';

/** Takes a job on, whole or not at all. */
export async function takeOn(db: FieldDatabase, job: JobId, { device, epoch, upTo, events }: Whole): Promise<Taken> {
  return write(db, ['events', 'meta'], async (tx) => {
    const [log, meta] = [tx.objectStore('events'), tx.objectStore('meta')];
    const [carry, session, known, stored] = await Promise.all([getMeta(meta, 'carry'), getMeta(meta, 'session'), getMeta(meta, 'epoch'), getMeta(meta, 'clock')]);
    if (!carry || session?.device !== device || known !== epoch) return 'apart';
    if (carry.held.includes(job)) return 'held';
    if (upTo < carry.cursor) return 'behind';
    if (events.length === 0 && (await log.index('job').count(job)) === 0) return 'unknown';
    putAll(log, events);
    const clock = new Clock(device, stored?.ms, stored?.counter);
    for (const event of events) clock.receive(event.clock, 0);
    await putMeta(meta, 'clock', { ms: clock.ms, counter: clock.counter });
    await putMeta(meta, 'carry', { ...carry, held: [...carry.held, job] });
    return 'held';
  });
}

/** What must not be let go. */
export type Spared = {
  /** Entries this phone wrote since then stay, for a server that is put back from a backup asks for them. */
  readonly ownSinceMs: number;
  /** Where the server once was put back: the ids it has now, by job. Null: what it told of or took, it has. */
  readonly seen: ReadonlyMap<string, ReadonlySet<string>> | null;
};

/** Lets go of what can be had again, and tells which jobs those were. All else stays. */
export async function letGo(db: FieldDatabase, jobs: readonly JobId[], spared: Spared): Promise<JobId[]> {
  return write(db, ['events', 'outbox', 'rejected', 'meta', 'photos', 'photoChunks'], async (tx) => {
    const meta = tx.objectStore('meta');
    const [carry, session, lately, busy] = [await getMeta(meta, 'carry'), await getMeta(meta, 'session'), await getMeta(meta, 'lately'), await waitingIn(tx)];
    if (!carry || !session) return [];
    const keeps = (job: JobId, events: readonly Event[]): boolean =>
      lately?.includes(job) === true || busy.jobs.has(job) ||
      events.some((event) => busy.ids.has(event.id) || busy.photos.has(photoOf(event) ?? '') || isOwnSince(event, session.device, spared.ownSinceMs) || spared.seen?.get(job)?.has(event.id) === false);
    const gone: JobId[] = [];
    for (const job of jobs) {
      const events = await tx.objectStore('events').index('job').getAll(job);
      if (keeps(job, events) || (spared.seen && !spared.seen.has(job))) continue;
      deleteAll(tx.objectStore('events'), events.map(({ id }) => id));
      await dropSent(tx, events);
      gone.push(job);
    }
    const left = new Set(gone);
    if (gone.length > 0) await putMeta(meta, 'carry', { ...carry, held: carry.held.filter((job) => !left.has(job as JobId)) });
    return gone;
  });
}

/** What of the jobs is on this phone, by id. */
export type Here = {
  readonly carry: Carry | null;
  readonly device: string;
  /** '' in a database that the browser emptied and nobody has synced since. */
  readonly epoch: string;
  readonly restored: boolean;
  /** Those with any entry here. */
  readonly present: readonly JobId[];
  /** Those that wait to be sent or were refused: never let go. */
  readonly busy: readonly JobId[];
  readonly lately: readonly string[];
};

/** How things stand; null when nobody has joined. */
export async function readHere(db: FieldDatabase): Promise<Here | null> {
  const session = await readMeta(db, 'session');
  const epoch = await readMeta(db, 'epoch');
  if (!session) return null;
  const tx = db.transaction(['events', 'outbox', 'rejected', 'meta']);
  const [log, meta] = [tx.objectStore('events'), tx.objectStore('meta')];
  const unsent = await Promise.all((await tx.objectStore('outbox').getAllKeys()).map((id) => log.get(id)));
  const refused = (await tx.objectStore('rejected').getAll()).map(({ event }) => event);
  return {
    carry: (await getMeta(meta, 'carry')) ?? null,
    device: session.device,
    epoch: epoch ?? '',
    restored: (await getMeta(meta, 'restored')) === true,
    present: await jobsIn(log),
    busy: [...new Set([...unsent, ...refused].flatMap((event) => event?.job ?? []))],
    lately: (await getMeta(meta, 'lately')) ?? [],
  };
}

type Keys = { openKeyCursor(range: null, direction: 'nextunique'): Promise<KeyStep | null> };
type KeyStep = { readonly key: IDBValidKey; continue(): Promise<KeyStep | null> };

async function jobsIn(log: { index(name: 'job'): unknown }): Promise<JobId[]> {
  const found: JobId[] = [];
  let at = await (log.index('job') as Keys).openKeyCursor(null, 'nextunique');
  while (at) {
    found.push(at.key as JobId);
    at = await at.continue();
  }
  return found;
}

type LettingGo = Writing<'events' | 'outbox' | 'rejected' | 'meta' | 'photos' | 'photoChunks'>;

async function waitingIn(tx: LettingGo): Promise<{ ids: ReadonlySet<string>; jobs: ReadonlySet<string>; photos: ReadonlySet<string> }> {
  const [ids, refused, photos] = await Promise.all([
    tx.objectStore('outbox').getAllKeys(), tx.objectStore('rejected').getAll(), tx.objectStore('photos').index('waiting').getAllKeys(1),
  ]);
  return { ids: new Set(ids), jobs: new Set(refused.map(({ event }) => event.job)), photos: new Set(photos) };
}

function photoOf({ body }: Event): string | null {
  const photo = 'photo' in body ? body.photo : null;
  return typeof photo === 'string' ? photo : null;
}

const isOwnSince = (event: Event, device: string, sinceMs: number): boolean => event.device === device && readClock(event.clock).ms >= sinceMs;

/** Pictures the server has of what goes: they come again with it. */
async function dropSent(tx: LettingGo, events: readonly Event[]): Promise<void> {
  const photos: Open<'photos'> = tx.objectStore('photos');
  const named = [...new Set(events.flatMap((event) => photoOf(event) ?? []))];
  const rows = await Promise.all(named.map((photo) => photos.get(photo)));
  await dropPhotos(photos, tx.objectStore('photoChunks'), rows.flatMap((row) => (row?.waiting === 0 ? [row.sha256] : [])));
}
