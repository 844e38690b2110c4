// What an answer changes on the phone, in one transaction: nothing leaves the outbox that the answer does not name.
import { Clock } from '../clock';
import type { Event } from '../event';
import type { SyncAnswer } from './answer';
import type { FieldDatabase, Rejected } from './database';
import { readMeta, writeMeta, type ClockState } from './meta';

export type Settled = {
  /** Ids the server holds now. */
  readonly released: readonly string[];
  readonly rejected: readonly Rejected[];
  /** Events that are new here or whose clock was put right. */
  readonly arrived: readonly Event[];
  readonly rewritten: readonly Event[];
  /** The server came back from a backup: own events stand in the outbox again. */
  readonly reoffered: number;
  readonly cursor: number;
  readonly clock: ClockState;
};

type Clamp = Readonly<Record<string, string>>;

/** Applies `answer` to what was `offered`. `device` is this phone's; `at` the time of settling. */
export async function settle(
  db: FieldDatabase,
  answer: SyncAnswer,
  offered: readonly Event[],
  device: string,
  at: string,
): Promise<Settled> {
  return db.transaction('rw', [db.events, db.outbox, db.rejected, db.meta], async () => {
    const byId = new Map(offered.map((event) => [event.id as string, event]));
    const released = answer.accepted.filter((id) => byId.has(id));
    await db.outbox.bulkDelete(released);
    const rejected = await quarantine(db, answer, byId, at);
    const rewritten = await rewriteClamped(db, answer.clamped, byId);
    const known = await readMeta(db, 'epoch');
    const restored = known !== undefined && known !== answer.epoch;
    const arrived = await keepArrived(db, answer.events);
    const clock = await keepClock(db, arrived, rewritten.length > 0, device);
    await writeMeta(db, 'epoch', answer.epoch);
    await writeMeta(db, 'lastOk', at);
    const cursor = restored ? 0 : answer.cursor;
    await writeMeta(db, 'cursor', cursor);
    const reoffered = restored ? await offerAllAgain(db, device, new Set(released), at) : 0;
    return { released, rejected, arrived, rewritten, reoffered, cursor, clock };
  });
}

async function quarantine(db: FieldDatabase, answer: SyncAnswer, byId: ReadonlyMap<string, Event>, at: string): Promise<Rejected[]> {
  const rejected = answer.rejected.flatMap(({ id, why }) => {
    const event = byId.get(id);
    return event ? [{ id, event, why, at }] : [];
  });
  await db.rejected.bulkPut(rejected);
  await db.events.bulkDelete(rejected.map(({ id }) => id));
  await db.outbox.bulkDelete(rejected.map(({ id }) => id));
  return rejected;
}

async function rewriteClamped(db: FieldDatabase, clamped: Clamp, byId: ReadonlyMap<string, Event>): Promise<Event[]> {
  const rewritten = Object.entries(clamped).flatMap(([id, clock]) => {
    const event = byId.get(id);
    return event ? [{ ...event, clock }] : [];
  });
  await db.events.bulkPut(rewritten);
  return rewritten;
}

async function keepArrived(db: FieldDatabase, events: readonly Event[]): Promise<Event[]> {
  if (events.length === 0) return [];
  const here = await db.events.bulkGet(events.map(({ id }) => id));
  const fresh = events.filter((event, index) => here[index]?.clock !== event.clock);
  await db.events.bulkPut(fresh);
  return fresh;
}

/** The clock follows what was seen; after a clamp it falls back to the latest clock still held here. */
async function keepClock(db: FieldDatabase, arrived: readonly Event[], clamped: boolean, device: string): Promise<ClockState> {
  const stored = await readMeta(db, 'clock');
  const clock = new Clock(device, stored?.ms, stored?.counter);
  for (const event of arrived) clock.receive(event.clock, 0);
  if (clamped) clock.lower(await latestHeld(db));
  const state = { ms: clock.ms, counter: clock.counter };
  await writeMeta(db, 'clock', state);
  return state;
}

async function latestHeld(db: FieldDatabase): Promise<string> {
  const events = await db.events.toArray();
  return events.reduce((last, { clock }) => (clock > last ? clock : last), '');
}

async function offerAllAgain(db: FieldDatabase, device: string, except: ReadonlySet<string>, at: string): Promise<number> {
  const own = await db.events.where('device').equals(device).toArray();
  const again = own.filter(({ id }) => !except.has(id));
  const waiting = new Set(await db.outbox.toCollection().primaryKeys());
  await db.outbox.bulkPut(again.filter(({ id }) => !waiting.has(id)).map(({ id, clock }) => ({ id, clock, since: at })));
  return again.length;
}
