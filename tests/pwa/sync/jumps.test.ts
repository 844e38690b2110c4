// A clock that is set in the middle of the day, with no signal: entries keep the time at which things happened.
import { expect, test } from 'vitest';
import { Wall, type Jump } from '../../../pwa/src/page/log/wall';
import { Jumps } from '../../../pwa/src/page/sync/jumps';
import { readMeta } from '../../../pwa/src/shared/store/meta';
import { job, Phone } from './phone';
import { ServerModel } from './server-model';

const start = Date.parse('2026-07-14T13:00:00Z');
const minute = 60_000;
const text = (ms: number): string => new Date(ms).toISOString();

/** The true time, the phone's clock beside it, and a clock that runs on, which stands still where the phone sleeps. */
class Day {
  now = start;
  asleepMs = 0;
  seen = true;
  said = 0;
  readonly server = new ServerModel(() => this.now);
  signal = true;
  readonly phone: Phone;
  readonly wall: Wall;
  readonly jumps: Jumps;

  constructor(public wrongMs = 0) {
    this.wall = new Wall(() => this.now + this.wrongMs, () => this.now - start - this.asleepMs, () => this.seen);
    this.phone = new Phone((path, init) => (this.signal ? this.server.fetch(path, init) : Promise.reject(new TypeError('no signal'))), () => this.wall.now());
    this.jumps = new Jumps(this.phone.steady, {
      offsetMs: () => this.phone.offsetMs,
      position: () => this.phone.book.position(),
      setOffset: (offsetMs) => {
        this.phone.offsetMs = offsetMs;
        this.phone.book.setOffset(offsetMs);
      },
      sayAhead: (byMs) => { this.said = byMs; },
      doubt: () => this.phone.run.doubtClock(),
    });
    this.wall.onJump = (jump) => void this.jumps.hear(jump);
  }

  static async begin(wrongMs = 0): Promise<Day> {
    const day = new Day(wrongMs);
    await day.phone.join(day.server.enrol(day.phone.device));
    await day.phone.run.drain();
    day.signal = false;
    return day;
  }

  /** Writes a note a while later; gives when it was. */
  async after(ms: number): Promise<string> {
    this.now += ms;
    await this.phone.note(text(this.now));
    return text(this.now);
  }

  async reach(): Promise<string[]> {
    this.now += minute;
    this.signal = true;
    await this.phone.run.drain();
    return this.server.log.map(({ at }) => at).sort();
  }
}

const watched = (): { wall: Wall; jumps: Jump[]; at: { clock: number; on: number; seen: boolean } } => {
  const at = { clock: start, on: 0, seen: true };
  const jumps: Jump[] = [];
  const wall = new Wall(() => at.clock, () => at.on, () => at.seen);
  wall.onJump = (jump) => jumps.push(jump);
  return { wall, jumps, at };
};

test('two clocks that run together, or apart by the hair’s breadth of a correction, tell of no jump', () => {
  const { wall, jumps, at } = watched();
  for (let turn = 0; turn < 1_000; turn += 1) {
    at.clock += 15_000 + (turn % 2 === 0 ? 900 : 0);
    at.on += 15_000;
    wall.now();
  }
  expect(jumps).toEqual([]);
});

test('a jump is told once, with its size, before the reading is used', () => {
  const { wall, jumps, at } = watched();
  at.clock -= 7 * minute;
  expect(wall.now()).toBe(start - 7 * minute);
  wall.now();
  expect(jumps).toEqual([{ byMs: -7 * minute, seen: true }]);
});

test('a jump over a time in which nobody looked is told as such, though somebody looks again', () => {
  const { wall, jumps, at } = watched();
  wall.hidden();
  at.clock += minute;
  wall.now();
  at.clock += minute;
  wall.now();
  expect(jumps.map(({ seen }) => seen)).toEqual([false, true]);
});

test.each([['right', 0], ['three minutes fast', 3 * minute]])('on a phone whose clock was %s and is set back, what follows has its time at once', async (_, wrongMs) => {
  const day = await Day.begin(wrongMs);
  const times = [await day.after(5 * minute)];
  day.wrongMs -= 60 * minute;
  times.push(await day.after(5 * minute));
  const before = await day.phone.book.events(job);
  expect(before.map(({ at }) => at)).toEqual(times);
  expect(before.at(-1)?.raw_at).toBe(text(day.now + day.wrongMs));
  expect(await day.reach()).toEqual(times);
  expect(day.phone.offsetMs).toBe(-day.wrongMs);
});

test('a clock set back stays noticed after the app was shut and opened', async () => {
  const day = await Day.begin();
  day.wrongMs = -20 * minute;
  const time = await day.after(minute);
  await day.jumps.written();
  expect(await day.phone.steady.run((db) => readMeta(db, 'offsetMs'))).toBe(20 * minute);
  await day.phone.book.open();
  const later = await day.after(minute);
  expect((await day.phone.book.events(job)).map(({ at }) => at)).toEqual([time, later]);
});

test('a clock set ahead under somebody’s eyes is said, and what was stamped since is put right before it goes', async () => {
  const day = await Day.begin();
  const times = [await day.after(5 * minute)];
  day.wrongMs = 60 * minute;
  times.push(await day.after(5 * minute));
  expect(day.said).toBe(60 * minute);
  times.push(await day.after(5 * minute));
  expect(await day.reach()).toEqual(times);
  expect(day.phone.book.jobView(job).value?.notes.map(({ at }) => at)).toEqual(times);
});

test('a time that a person gave stays as given, before and after the clock was set', async () => {
  const day = await Day.begin();
  const given = text(start - 40 * minute);
  day.wrongMs = 60 * minute;
  await day.phone.book.record(job, 'note.written', { text: 'given' }, new Date(given));
  const time = await day.after(minute);
  expect(await day.reach()).toEqual([given, time]);
});

test('a phone that slept is said nothing of, and nothing moves', async () => {
  const day = await Day.begin();
  const times = [await day.after(5 * minute)];
  day.wall.hidden();
  day.asleepMs += 30 * minute;
  times.push(await day.after(30 * minute));
  expect(day.said).toBe(0);
  expect(await day.reach()).toEqual(times);
  expect(await day.phone.steady.run((db) => readMeta(db, 'suspects'))).toEqual([]);
});

test('sleep and a clock set ahead are told apart by their size', async () => {
  const day = await Day.begin();
  const times = [await day.after(5 * minute)];
  day.asleepMs += 30 * minute;
  times.push(await day.after(30 * minute));
  day.wrongMs = 47 * minute;
  times.push(await day.after(5 * minute));
  day.asleepMs += 10 * minute;
  times.push(await day.after(10 * minute));
  expect(await day.reach()).toEqual(times);
});

test('a clock set while the app was shut is put right from the start of the app on', async () => {
  const day = await Day.begin();
  const times = [await day.after(5 * minute)];
  day.wall.onJump = () => undefined; // nobody is there to notice
  day.wrongMs = -45 * minute;
  day.wall.now();
  await day.phone.book.open();
  await day.jumps.started(1);
  times.push(await day.after(5 * minute + 4_321));
  expect(await day.reach()).toEqual(times);
});

test('a change of the offset that no jump explains moves nothing', async () => {
  const day = await Day.begin();
  await day.after(5 * minute);
  day.wall.onJump = () => undefined;
  day.wrongMs = 20 * minute;
  const wrong = text(day.now + 5 * minute + 20 * minute);
  await day.after(5 * minute);
  expect((await day.reach())[1]).toBe(wrong);
});
