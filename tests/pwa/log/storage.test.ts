import { afterEach, describe, expect, test, vi } from 'vitest';
import { joinedAt } from '../sync/phone';
import { openDatabase, type FieldDatabase } from '../../../pwa/src/shared/store/database';
import { Steady, StorageFull, StorageLost, classify } from '../../../pwa/src/shared/store/steady';
import { keepPicture } from '../../../pwa/src/page/log/photos';

const now = Date.parse('2026-07-14T13:00:00Z');

/** Lets the next `times` writes to a store fail the way a browser does. */
function failWrites(times: number, error: () => unknown, store = 'events'): { left: () => number } {
  const real = IDBObjectStore.prototype.put;
  let left = times;
  vi.spyOn(IDBObjectStore.prototype, 'put').mockImplementation(function (this: IDBObjectStore, ...given: Parameters<typeof real>) {
    if (this.name === store && left > 0) {
      left -= 1;
      throw error();
    }
    return real.apply(this, given);
  });
  return { left: () => left };
}

afterEach(() => vi.restoreAllMocks());

const lost = [
  ['InvalidStateError', 'The database connection is closing.'],
  ['UnknownError', 'Internal error opening backing store for indexedDB.open.'],
  ['UnknownError', 'Connection to Indexed Database server lost. Refresh the page to try again'],
  ['AbortError', 'The transaction was aborted.'],
  ['TransactionInactiveError', 'The transaction is not active.'],
  ['DataError', 'Error preparing Blob/File data to be stored in object store'],
] as const;

describe('a lost connection heals in at most three attempts, and nothing is lost or doubled', () => {
  test.each(lost)('%s: %s', async (name, message) => {
    const { phone } = await joinedAt(now);
    failWrites(2, () => new DOMException(message, name));
    await phone.note('kept');
    expect(await phone.log()).toHaveLength(1);
    expect(await phone.waiting()).toBe(1);
  });

  test('past three attempts the person is told, and the entry leaves the screen', async () => {
    const { phone } = await joinedAt(now);
    failWrites(3, () => new DOMException('connection lost', 'UnknownError'));
    await expect(phone.note('not kept')).rejects.toBeInstanceOf(StorageLost);
    expect(phone.book.unsent.value.count).toBe(0);
    expect((await phone.log())).toHaveLength(0);
    await phone.note('the next one goes in');
    expect(await phone.log()).toHaveLength(1);
  });
});

describe('a full phone', () => {
  const full = (): DOMException => new DOMException('Quota exceeded', 'QuotaExceededError');

  test('makes room by dropping sent photos, so that a tick still goes in', async () => {
    const { phone } = await joinedAt(now);
    const sha = await keepPicture(phone.steady, { bytes: new Uint8Array(700_000).buffer, mime: 'image/jpeg' }, 'now');
    await phone.steady.run(async (db) => {
      const record = await db.get('photos', sha);
      if (record) await db.put('photos', { ...record, waiting: 0 });
    });
    failWrites(1, full);
    await phone.note('still goes in');
    expect(await phone.log()).toHaveLength(1);
    expect(await phone.steady.run((db) => db.count('photoChunks'))).toBe(0);
  });

  test('never drops a photo that is not sent', async () => {
    const { phone } = await joinedAt(now);
    await keepPicture(phone.steady, { bytes: new Uint8Array(300_000).buffer, mime: 'image/jpeg' }, 'now');
    failWrites(9, full);
    await expect(phone.note('no room')).rejects.toBeInstanceOf(StorageFull);
    expect(await phone.steady.run((db) => db.count('photoChunks'))).toBe(2);
  });

  test('refuses a photo in plain words and keeps no half of it', async () => {
    const { phone } = await joinedAt(now);
    failWrites(1, full, 'photos');
    await expect(keepPicture(phone.steady, { bytes: new Uint8Array(300_000).buffer, mime: 'image/jpeg' }, 'now')).rejects.toBeInstanceOf(StorageFull);
    expect(await phone.steady.run((db) => db.count('photoChunks'))).toBe(0);
  });
});

test('a database that hangs when opened is asked again, and the late one is closed', async () => {
  let calls = 0;
  let late: (db: FieldDatabase) => void = () => undefined;
  const steady = new Steady('hangs-once', { openMs: 400, workMs: 5_000, attempts: 3 }, (name, ends) => {
    calls += 1;
    return calls === 1 ? new Promise((resolve) => { late = resolve; }) : openDatabase(name, ends);
  });
  expect(await steady.run((db) => db.count('events'))).toBe(0);
  expect(calls).toBe(2);
  const close = vi.fn();
  late({ close } as unknown as FieldDatabase);
  await Promise.resolve();
  expect(close).toHaveBeenCalled();
});

test('a write that hangs is given up and done again on a fresh connection', async () => {
  const steady = new Steady('hangs-at-work', { openMs: 5_000, workMs: 400, attempts: 3 });
  let calls = 0;
  const count = await steady.run((db) => {
    calls += 1;
    return calls === 1 ? new Promise<number>(() => undefined) : db.count('events');
  });
  expect([count, calls]).toEqual([0, 2]);
});

test('a mistake of ours is not taken for a lost connection', () => {
  expect(classify(new TypeError('undefined is not a function'))).toBe('other');
  expect(classify(new DOMException('x', 'ConstraintError'))).toBe('other');
  expect(classify(new DOMException('x', 'QuotaExceededError'))).toBe('full');
});

test('a photo reads back byte for byte, and twice the same is kept once', async () => {
  const { phone } = await joinedAt(now);
  const bytes = Uint8Array.from({ length: 600_001 }, (_, index) => (index * 31) % 251);
  const first = await keepPicture(phone.steady, { bytes: bytes.slice().buffer, mime: 'image/jpeg' }, 'now');
  const second = await keepPicture(phone.steady, { bytes: bytes.slice().buffer, mime: 'image/jpeg' }, 'later');
  expect(second).toBe(first);
  expect(await phone.steady.run((db) => db.count('photoChunks'))).toBe(3);
});
