import { deleteDB } from 'idb';
import { expect, test } from 'vitest';
import { Book, NotJoined } from '../../../pwa/src/page/log/book';
import { keepCopy, keptCopies } from '../../../pwa/src/page/log/copy';
import { leave } from '../../../pwa/src/shared/store/membership';
import { job, joinedAt, Phone } from '../sync/phone';

const now = Date.parse('2026-07-14T13:00:00Z');

const opened = { name: 'Miller patio', latitude_deg: 41, longitude_deg: -93, time_zone: 'America/Chicago', use: 'patio' } as const;

test('an entry shows before it is saved, and is on the disk once "saved" is said', async () => {
  const { phone } = await joinedAt(now);
  const saved = phone.book.record(job, 'job.opened', opened);
  expect(phone.book.jobs.value.map(({ name }) => name)).toEqual(['Miller patio']);
  await saved;
  expect(await phone.log()).toHaveLength(1);
});

test('writes strictly: the browser is asked for the disk, not for a cache', async () => {
  const { phone } = await joinedAt(now);
  const asked: unknown[] = [];
  const real = IDBDatabase.prototype.transaction;
  IDBDatabase.prototype.transaction = function (names, mode, options) {
    if (mode === 'readwrite') asked.push(options?.durability);
    return real.call(this, names, mode, options);
  };
  try {
    await phone.note('strict');
  } finally {
    IDBDatabase.prototype.transaction = real;
  }
  expect(asked).toEqual(['strict']);
});

test('a thousand entries at once go in a few transactions, each of them kept once', async () => {
  const { phone } = await joinedAt(now);
  await Promise.all(Array.from({ length: 1_000 }, (_, index) => phone.note(`note ${index}`)));
  expect(await phone.log()).toHaveLength(1_000);
  expect(phone.book.unsent.value.count).toBe(1_000);
  expect(new Set((await phone.log()).map(({ clock }) => clock)).size).toBe(1_000);
});

test('a new page finds what an old one wrote', async () => {
  const { phone } = await joinedAt(now);
  await phone.book.record(job, 'job.opened', opened);
  const next = new Book(phone.steady, phone.tabs.open(), () => now);
  await next.open();
  expect(next.jobs.value.map(({ name }) => name)).toEqual(['Miller patio']);
  expect(next.unsent.value.count).toBe(1);
});

test('what one tab records, the other shows, counts and can take back', async () => {
  const { phone } = await joinedAt(now);
  const other = new Book(phone.steady, phone.tabs.open(), () => now);
  await other.open();
  const note = await phone.book.record(job, 'note.written', { text: 'hello' });
  expect(other.jobView(job).value?.notes.map(({ text }) => text)).toEqual(['hello']);
  expect(other.unsent.value.count).toBe(1);
  await other.record(job, 'event.retracted', { event: note });
  expect(phone.book.jobView(job).value?.notes).toEqual([]);
});

test('a rejected entry leaves the job on this phone too, as on all others', async () => {
  const { phone, server } = await joinedAt(now);
  await phone.book.record(job, 'note.written', { text: 'refused' });
  server.refuse = () => 'body';
  await phone.run.drain();
  expect(phone.book.jobView(job).value?.notes).toEqual([]);
});

test('nobody writes without having joined', async () => {
  const phone = new Phone(() => Promise.reject(new Error('off')), () => now);
  await phone.book.open();
  await expect(phone.note('anonymous')).rejects.toBeInstanceOf(NotJoined);
});

test('leaving forgets all but the copy of what was unsent', async () => {
  const { phone } = await joinedAt(now);
  await phone.note('unsent');
  const copy = await phone.steady.run((db) => keepCopy(db, '2026-07-14T13:00:00.000Z'));
  await phone.steady.run(leave);
  await phone.book.open();
  expect(phone.book.unsent.value.count).toBe(0);
  const [kept] = await phone.steady.run(keptCopies);
  expect(kept?.copy).toEqual(copy);
  expect(JSON.parse(copy?.text ?? '')).toMatchObject({ events: [{ body: { text: 'unsent' } }] });
});

test('a database the browser takes away under an open page is filled again with all that is not sent', async () => {
  const { phone } = await joinedAt(now);
  await phone.note('placed');
  await phone.note('edged');
  phone.steady.close();
  await deleteDB(phone.steady.name);
  phone.steady.onOpened = async (db) => void (await phone.book.refill(db));
  await phone.note('after');
  expect(await phone.log()).toHaveLength(3);
  const next = new Book(phone.steady, phone.tabs.open(), () => now);
  await next.open();
  expect(next.unsent.value.count).toBe(3);
});
