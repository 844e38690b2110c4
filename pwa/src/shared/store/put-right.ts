// What was written before the phone's clock was known to be wrong, and was not sent yet, gets right times.
import { readClock } from '../clock';
import { instant, type Event } from '../event';
import type { Kind } from '../events';
import { putAll, write, type FieldDatabase } from './database';
import type { Suspect } from './meta';

/** A person gives whole minutes; a moment with seconds was read off this phone's clock, such as "20 min ago" or a touch. */
const readOff = (moment: unknown): moment is string => typeof moment === 'string' && Date.parse(moment) % 60_000 !== 0;

/** Stamped by the raw clock, or told by it. A time that a person gave is another, and stays. */
const byRawClock = ({ clock, at, raw_at }: Event): boolean => raw_at === null && (Date.parse(at) === readClock(clock).ms || readOff(at));

/** Moments inside an entry that a touch may have set. */
const touched: Readonly<Partial<Record<Kind, readonly string[]>>> = {
  'load.ticketed': ['batched_at'],
  'load.placed': ['from', 'to'],
};

/** Moves `at` of the unsent events by `offsetMs`, and what touches set inside; keeps the raw reading; gives the events that changed. */
export async function putRight(db: FieldDatabase, offsetMs: number): Promise<Event[]> {
  return moveUnsent(db, offsetMs, byRawClock);
}

/** Two readings of one jump differ by no more than this. */
const SAME_JUMP_MS = 3_000;

/**
 * After the clock was set, once the server has told by how much the offset changed: moves what is unsent and was
 * stamped since. Where it was set follows from `suspects`: the last that fits, else the last start of the app. Where
 * nothing fits, nothing moves.
 */
export async function putRightSince(db: FieldDatabase, byMs: number, suspects: readonly Suspect[]): Promise<Event[]> {
  const from = suspects.findLast((one) => one.byMs !== null && Math.abs(one.byMs + byMs) <= SAME_JUMP_MS) ?? suspects.findLast((one) => one.byMs === null);
  if (!from || Math.abs(byMs) <= SAME_JUMP_MS) return [];
  return moveUnsent(db, byMs, (event) => event.clock > from.after && (event.raw_at !== null || byRawClock(event)));
}

async function moveUnsent(db: FieldDatabase, byMs: number, which: (event: Event) => boolean): Promise<Event[]> {
  if (byMs === 0) return [];
  return write(db, ['events', 'outbox'], async (tx) => {
    const log = tx.objectStore('events');
    const ids = await tx.objectStore('outbox').getAllKeys();
    const waiting = await Promise.all(ids.map((id) => log.get(id)));
    const changed = waiting
      .filter((event): event is Event => event !== undefined && which(event))
      .map((event) => moved(event, byMs));
    putAll(log, changed);
    return changed;
  });
}

function moved(event: Event, offsetMs: number): Event {
  const body: Record<string, unknown> = { ...event.body };
  for (const name of touched[event.kind] ?? []) if (readOff(body[name])) body[name] = instant(Date.parse(body[name]) + offsetMs);
  const inOrder = event.kind !== 'load.placed' || String(body['from']) <= String(body['to']);
  return { ...event, body: inOrder ? body : event.body, at: instant(Date.parse(event.at) + offsetMs), raw_at: event.raw_at ?? event.at } as Event;
}
