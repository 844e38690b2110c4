// What an answer changes on the phone, in one transaction: nothing leaves the outbox that the answer does not name.
import { Clock } from '../clock';
import type { Event } from '../event';
import type { SyncAnswer } from './answer';
import { deleteAll, putAll, write, type FieldDatabase, type Rejected, type Writing } from './database';
import { getMeta, putMeta, type ClockState } from './meta';
import { covers, type Place } from './place';

export type Settled = {
  /** Ids the server holds now. */
  readonly released: readonly string[];
  readonly rejected: readonly Rejected[];
  /** What the server handed out of the jobs held here; some of it may be known. */
  readonly arrived: readonly Event[];
  /** Own events whose clock the server set back. */
  readonly rewritten: readonly Event[];
  /** The server came back from a backup: so many own events stand in the outbox again. */
  readonly reoffered: number;
  readonly cursor: number;
  readonly clock: ClockState;
};

type Tx = Writing<'events' | 'outbox' | 'rejected' | 'meta'>;
type ById = ReadonlyMap<string, Event>;

/** Applies `answer` to what was `offered` and `asked`. `device` is this phone's; `at` the time of settling. */
export async function settle(
  db: FieldDatabase, answer: SyncAnswer, offered: readonly Event[], asked: Place, device: string, at: string,
): Promise<Settled> {
  return write(db, ['events', 'outbox', 'rejected', 'meta'], async (tx) => {
    const meta = tx.objectStore('meta');
    const byId: ById = new Map(offered.map((event) => [event.id as string, event]));
    const released = answer.accepted.filter((id) => byId.has(id));
    deleteAll(tx.objectStore('outbox'), released);
    const rejected = quarantine(tx, answer, byId, at);
    const rewritten = rewriteClamped(tx, answer.clamped, byId);
    const [known, carry, stored, session] = await Promise.all([getMeta(meta, 'epoch'), getMeta(meta, 'carry'), getMeta(meta, 'cursor'), getMeta(meta, 'session')]);
    // who joined while the call was under way reads the log from its beginning
    const ours = session?.device === device;
    const restored = ours && known !== undefined && known !== answer.epoch;
    // those known already are put again as they are: cheaper than asking for each
    const held = carry && new Set(carry.held);
    const arrived = answer.events.filter(({ job }) => ours && (!held || held.has(job)));
    putAll(tx.objectStore('events'), arrived);
    const clock = await keepClock(tx, arrived, rewritten.length > 0, device);
    const before = carry?.cursor ?? stored ?? 0;
    const cursor = restored ? 0 : ours && covers(asked, carry, stored) ? answer.cursor : before;
    if (ours) await Promise.all([putMeta(meta, 'epoch', answer.epoch), putMeta(meta, 'lastOk', at)]);
    if (restored) await putMeta(meta, 'restored', true);
    if (cursor !== before) await (carry ? putMeta(meta, 'carry', { ...carry, cursor }) : putMeta(meta, 'cursor', cursor));
    const reoffered = restored ? await offerAllAgain(tx, device, new Set(released), at) : 0;
    return { released, rejected, arrived, rewritten, reoffered, cursor, clock };
  });
}

function quarantine(tx: Tx, answer: SyncAnswer, byId: ById, at: string): Rejected[] {
  const rejected = answer.rejected.flatMap(({ id, why }) => {
    const event = byId.get(id);
    return event ? [{ id, event, why, at }] : [];
  });
  const ids = rejected.map(({ id }) => id);
  putAll(tx.objectStore('rejected'), rejected);
  deleteAll(tx.objectStore('events'), ids);
  deleteAll(tx.objectStore('outbox'), ids);
  return rejected;
}

function rewriteClamped(tx: Tx, clamped: Readonly<Record<string, string>>, byId: ById): Event[] {
  const rewritten = Object.entries(clamped).flatMap(([id, clock]) => {
    const event = byId.get(id);
    return event ? [{ ...event, clock }] : [];
  });
  putAll(tx.objectStore('events'), rewritten);
  return rewritten;
}

/** The clock follows what was seen; after a clamp it falls back to the latest clock still held here. */
async function keepClock(tx: Tx, arrived: readonly Event[], clamped: boolean, device: string): Promise<ClockState> {
  const stored = await getMeta(tx.objectStore('meta'), 'clock');
  const clock = new Clock(device, stored?.ms, stored?.counter);
  for (const event of arrived) clock.receive(event.clock, 0);
  if (clamped) clock.lower(await latestHeld(tx));
  const state = { ms: clock.ms, counter: clock.counter };
  await putMeta(tx.objectStore('meta'), 'clock', state);
  return state;
}

async function latestHeld(tx: Tx): Promise<string> {
  const events = await tx.objectStore('events').getAll();
  return events.reduce((last, { clock }) => (clock > last ? clock : last), '');
}

async function offerAllAgain(tx: Tx, device: string, except: ReadonlySet<string>, at: string): Promise<number> {
  const own = await tx.objectStore('events').index('device').getAll(device);
  const waiting = new Set(await tx.objectStore('outbox').getAllKeys());
  const again = own.filter(({ id }) => !except.has(id) && !waiting.has(id));
  putAll(tx.objectStore('outbox'), again.map(({ id, clock }) => ({ id, clock, since: at })));
  return again.length;
}
