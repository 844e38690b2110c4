import { expect, test } from 'vitest';
import { OffsetMeter } from '../../../pwa/src/page/sync/offset';
import { readClock } from '../../../pwa/src/shared/clock';
import type { LoadId } from '../../../pwa/src/shared/events';
import { job, Phone } from './phone';
import { ServerModel } from './server-model';

const start = Date.parse('2026-07-14T13:00:00Z');
const day = 86_400_000;
const load = (number: number): LoadId => `01980000-0000-7000-8000-00000000000${number}` as LoadId;

async function phoneAhead(aheadMs: number): Promise<{ phone: Phone; server: ServerModel }> {
  const server = new ServerModel(() => start);
  const phone = new Phone((path, init) => server.fetch(path, init), () => start + aheadMs);
  await phone.join(server.enrol(phone.device));
  return { phone, server };
}

test.each([['a day behind', -day], ['a day ahead', day], ['in the year 2099', Date.parse('2099-01-01T00:00:00Z') - start]])(
  'a phone %s writes right times once it has synced, and keeps its raw reading',
  async (_, aheadMs) => {
    const { phone, server } = await phoneAhead(aheadMs);
    await phone.run.drain();
    await phone.note('after');
    await phone.run.drain();
    expect(server.log[0]).toMatchObject({ at: new Date(start).toISOString(), raw_at: new Date(start + aheadMs).toISOString() });
    expect(phone.offsetMs).toBe(-aheadMs);
  },
);

test('what a phone far ahead wrote before is clamped, and phone and server hold the same clock', async () => {
  const { phone, server } = await phoneAhead(day);
  await phone.note('one');
  await phone.note('two');
  await phone.run.drain();
  const clocks = server.log.map(({ id, clock }) => ({ id, clock })).sort((one, other) => (one.id < other.id ? -1 : 1));
  expect(clocks.map(({ clock }) => readClock(clock).ms)).toEqual([start + 300_000, start + 300_000]);
  expect(await phone.log()).toEqual(clocks);
});

test('after a clamp the phone no longer writes from the far future, and an undo still comes after what it undoes', async () => {
  const { phone, server } = await phoneAhead(day);
  const first = await phone.note('one');
  await phone.run.drain();
  await phone.book.record(job, 'event.retracted', { event: first as never });
  const written = (await phone.log()).map(({ clock }) => readClock(clock).ms);
  expect(Math.max(...written)).toBeLessThanOrEqual(start + 300_001);
  await phone.run.drain();
  const [note, undo] = server.log;
  expect(undo && note && undo.clock > note.clock).toBe(true);
  expect(phone.book.jobView(job).value?.notes).toEqual([]);
});

test.each([['in the year 2099', Date.parse('2099-01-01T00:00:00Z') - start], ['a day behind', -day]])(
  'what a phone %s wrote before it ever synced goes up with right times; a time that a person gave stays',
  async (_, aheadMs) => {
    const { phone, server } = await phoneAhead(aheadMs);
    await phone.note('before');
    await phone.book.record(job, 'note.written', { text: 'given' }, new Date(start - 60_000));
    await phone.run.drain();
    const times = server.log.map(({ at, raw_at }) => [at, raw_at]);
    expect(times).toEqual([[new Date(start).toISOString(), new Date(start + aheadMs).toISOString()], [new Date(start - 60_000).toISOString(), null]]);
    expect(phone.book.jobView(job).value?.notes.map(({ at }) => at).sort()).toEqual(times.map(([at]) => at).sort());
    expect(await phone.waiting()).toBe(0);
  },
);

test('what touches set inside an entry moves with the clock; what was read off paper stays', async () => {
  const { phone, server } = await phoneAhead(7 * 60_000);
  const raw = start + 7 * 60_000;
  const text = (ms: number): string => new Date(ms).toISOString();
  await phone.book.record(job, 'load.ticketed', { load: load(1), number: 1, batched_at: text(start - 20 * 60_000), volume_m3: 6 });
  await phone.book.record(job, 'load.ticketed', { load: load(2), number: 2, batched_at: text(raw - 20 * 60_000 + 345), volume_m3: 6 });
  await phone.book.record(job, 'load.placed', { load: load(1), from: text(raw - 4_321), to: text(raw - 21) });
  await phone.run.drain();
  expect(server.log.map(({ body }) => body)).toMatchObject([
    { batched_at: text(start - 20 * 60_000) },
    { batched_at: text(start - 20 * 60_000 + 345) },
    { from: text(start - 4_321), to: text(start - 21) },
  ]);
});

test('a given time is kept as given, whatever the clock says', async () => {
  const { phone } = await phoneAhead(day);
  await phone.run.drain();
  await phone.book.record(job, 'note.written', { text: 'earlier' }, new Date(start - 60_000));
  const [event] = await phone.book.events(job);
  expect(event).toMatchObject({ at: new Date(start - 60_000).toISOString(), raw_at: null });
});

test('the offset comes from the quickest trip, and a clock set by hand is noticed at once', () => {
  const meter = new OffsetMeter();
  expect(meter.read(100_000, 0, 200)).toBe(99_900);
  expect(meter.read(104_000, 0, 8_000)).toBe(99_900);
  expect(meter.read(50_000, 50_000, 50_100)).toBe(0);
  expect(meter.read(90_000, 0, 11_000)).toBeNull();
  expect(meter.read(NaN, 0, 10)).toBeNull();
});
