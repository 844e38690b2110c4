import { beforeEach, describe, expect, test } from 'vitest';
import type { JobState } from '../../../pwa/src/shared/fold';
import type { Answer, Question } from '../../../pwa/src/engine-worker/contract';
import { Keeper, type Seen } from '../../../pwa/src/page/engine/keeper';
import { restsOn } from '../../../pwa/src/page/engine/relevant';
import type { Outlook, Reminder } from '../../../pwa/src/page/sync/contract';
import type { WorkedHere } from '../../../pwa/src/page/sync/worked';
import type { JobView } from '../../../pwa/src/shared/job';
import { at, iso, job, jobOutlook, load, loadTimeline, outlook, reminder, when } from '../look/sample';

const poured = (over: Record<string, unknown> = {}): JobView => job('Oak Lane', { phase: 'pour', loads: [load('a', 1)], ...over });
const check = (n: number): object => ({ event: `check ${n}`, at: iso(n), author: 'p', load: 'a', kind: 'thumb', depth_mm: null });
const theirs = (hours: number, reminders: readonly Reminder[] = []): Outlook => outlook({ 'Oak Lane': jobOutlook([loadTimeline('a')], { computed_at: iso(hours) }) }, reminders);

/** A phone whose engine answers at once, and what it was asked. */
class Phone {
  asked: Question[] = [];
  kept: Record<string, WorkedHere> = {};
  failures: unknown[] = [];
  broken = false;
  again: number | null = null;
  items: Readonly<Record<string, readonly object[]>> = {};
  seen: Seen;
  onAsk: () => void = () => undefined;
  /** What an answer has that is not the plain one. */
  answers: (question: Question) => object = () => ({});
  readonly keeper = new Keeper({
    state: (id) => ({ job: id, set: {}, items: this.items as JobState['items'] }),
    ask: async (question) => {
      this.asked.push(question);
      this.onAsk();
      await Promise.resolve();
      if (this.broken) throw new Error('a trap');
      return { job: question.job, computed_at: question.now, timeline: null, reminders: [], recompute_after: this.again === null ? null : iso(this.again), ...this.answers(question) } as unknown as Answer;
    },
    keep: async (id, found) => {
      this.kept = { ...this.kept, [id]: found };
    },
    fail: (error) => this.failures.push(error),
  });

  constructor(seen: Partial<Seen> = {}) {
    this.seen = { jobs: [poured()], server: null, shown: null, worked: {}, company: 'c', unsent: true, now: at(3), ...seen };
  }

  async look(change: Partial<Seen> = {}): Promise<number> {
    this.seen = { ...this.seen, worked: this.kept, ...change };
    const before = this.asked.length;
    await this.keeper.look(this.seen);
    return this.asked.length - before;
  }
}

let phone: Phone;
beforeEach(() => {
  phone = new Phone();
});

describe('what is worked out, and when', () => {
  test('a job the phone has no times for, once', async () => {
    expect(await phone.look()).toBe(1);
    expect(await phone.look()).toBe(0);
    expect(phone.kept['Oak Lane']).toMatchObject({ worked_here: true, company: 'c', worked_at: iso(3), rests_on: restsOn(poured()) });
  });

  test('again when a check comes, not when a box is ticked', async () => {
    await phone.look();
    expect(await phone.look({ jobs: [poured({ ticks: { 'forms/stakes': { done: true } }, notes: [{ text: 'windy' }] })] })).toBe(0);
    expect(await phone.look({ jobs: [poured({ checks: [check(1)] })] })).toBe(1);
  });

  test.each([
    ['a load', { loads: [load('a', 1), load('b', 2)] }], ['a weather note', { weather_notes: [{ air_temp_c: 33 }] }],
    ['a wash', { washes: [{ at: iso(30) }] }], ['the last cut', { cuts_done: true }], ['another slab', { slab: { thickness_m: 0.2 } }],
    ['a reminder taken in hand', { acks: { r: { by: 'p' } } }], ['a reminder put off', { snoozes: { r: { until: iso(9) } } }], ['bays by which loads have their area', { bays: [{ load: 'a', area_m2: 12, steps: {} }] }],
  ])('%s matters', async (_, over) => {
    await phone.look();
    expect(await phone.look({ jobs: [poured(over)] })).toBe(1);
  });

  test('entries that come while it works are looked at right after, in one go', async () => {
    phone.onAsk = () => {
      if (phone.asked.length > 1) return;
      for (const n of [1, 2, 3]) void phone.keeper.look({ ...phone.seen, jobs: [poured({ checks: [check(n)] })] });
    };
    await phone.look();
    expect(phone.asked.length).toBe(2);
    expect(phone.kept['Oak Lane']?.rests_on).toContain('check 3');
  });

  test('closed jobs and those nobody opened are left alone', async () => {
    expect(await phone.look({ jobs: [poured({ closed: { outcome: null } }), job('Pine', { opened: null })] })).toBe(0);
  });

  test('concrete that waits for its saw comes first', async () => {
    await phone.look({ jobs: [job('Pine'), job('Elm'), poured()] });
    expect(phone.asked.map((asked) => asked.job)).toEqual(['Oak Lane', 'Pine', 'Elm']);
  });

  test('what it said to look at again is looked at then', async () => {
    phone.again = 4;
    await phone.look();
    expect(await phone.look({ now: at(3.9) })).toBe(0);
    expect(await phone.look({ now: at(4) })).toBe(1);
  });
});

describe('beside the server', () => {
  test('nothing is worked out while the server knows all and has said all', async () => {
    expect(await phone.look({ server: theirs(2.9), unsent: false })).toBe(0);
  });

  test('newer times of the server take over, unless this phone has unsent work', async () => {
    await phone.look({ server: theirs(2) });
    expect(await phone.look({ server: theirs(3.5), unsent: false, now: at(3.6) })).toBe(0);
    expect(await phone.look({ server: theirs(3.7), unsent: true, now: at(3.8) })).toBe(1);
  });

  test('a server whose clock runs ahead is answered once', async () => {
    expect(await phone.look({ server: theirs(3.5) })).toBe(1);
    expect(await phone.look()).toBe(0);
  });

  test('a server that has said nothing for more than an hour is done without', async () => {
    await phone.look({ server: theirs(3), unsent: false });
    expect(await phone.look({ now: at(4.2) })).toBe(0);
    expect(await phone.look({ now: at(4.3) })).toBe(1);
    expect(await phone.look({ now: at(4.4) })).toBe(0);
  });

  test('what was kept when the app was shut is not worked out again', async () => {
    await phone.look();
    const next = new Phone({ worked: phone.kept, now: at(3.2) });
    next.kept = phone.kept;
    expect(await next.look()).toBe(0);
    expect(await next.look({ jobs: [poured({ checks: [check(1)] })] })).toBe(1);
  });

  test('the question brings the server’s hours and reminders, and the times on the screen', async () => {
    const mine = reminder('Oak Lane', 'saw');
    const other = reminder('Pine', 'saw');
    const server = theirs(2, [mine, other]);
    const entry = server.jobs['Oak Lane'];
    const withHours = { ...server, jobs: { 'Oak Lane': { ...entry, weather: { ...entry?.weather, hours: { label: 'file' } } } } } as unknown as Outlook;
    await phone.look({ server: withHours, shown: server });
    expect(phone.asked[0]).toMatchObject({ company: 'c', now: iso(3), hours: { label: 'file' }, told: [mine] });
    expect(phone.asked[0]?.last).toMatchObject({ computed_at: iso(2), planned: false });
    expect(phone.asked[0]?.learned).toBeNull(); // an older server says nothing of mixes
  });

  test('the curves of the times on the screen stay at home, and are there again where those times had to stay', async () => {
    const shown = theirs(2);
    const timeline = shown.jobs['Oak Lane']?.timeline;
    phone.answers = ({ last }) => ({ problem: { code: 'load_wrong' }, ...(last as object) });
    await phone.look({ server: shown, shown });
    const { timeline: told } = (phone.asked[0] as { last: { timeline: { loads: object[] } } }).last;
    const sent = told.loads[0];
    expect(sent).toMatchObject({ id: 'a', windows: timeline?.loads[0]?.windows });
    expect(sent).not.toHaveProperty('curve');
    expect(timeline?.loads[0]?.curve).toBeDefined();
    expect(phone.kept['Oak Lane']).toMatchObject({ computed_at: iso(2), timeline });
  });

  test('times that were worked out anew are kept as they came, whatever stood on the screen', async () => {
    const anew = jobOutlook([loadTimeline('b')]).timeline;
    phone.answers = () => ({ problem: { code: 'weather_short' }, timeline: anew });
    await phone.look({ server: theirs(2), shown: theirs(2) });
    expect(phone.kept['Oak Lane']?.timeline).toEqual(anew);
  });

  test('the question leaves notes and photos at home: there may be thousands, and no time rests on them', async () => {
    phone.items = { notes: [{}], photos: [{}], checks: [{}], weather_notes: [{}] };
    await phone.look();
    expect(Object.keys(phone.asked[0]?.state.items ?? {})).toEqual(['checks', 'weather_notes']);
  });

  test('the question brings what the server told of the job’s mix and of all mixes', async () => {
    const prior = { mix: 'Sand 4000', plant: 'Bend', level: 'plant' as const, pours: 4, set_factor: 1.12, set_factor_sd: 0.09 };
    const mixes = [{ mix: 'Sand 4000', plant: 'Bend', pours: 4, mean_log: 0.11, sd_log: 0.09 }];
    const server = theirs(2);
    const entry = server.jobs['Oak Lane'];
    const told = { ...server, mixes, jobs: { 'Oak Lane': { ...entry, prior } } } as unknown as Outlook;
    await phone.look({ server: told, shown: server });
    expect(phone.asked[0]?.learned).toEqual({ prior, mixes });
  });
});

describe('when time goes on', () => {
  test('a reminder that falls due is looked at once', async () => {
    await phone.look();
    const shown = theirs(3, [reminder('Oak Lane', 'saw', { state: 'planned', due: iso(5), opens: when(4, 5, 6) })]);
    expect(await phone.look({ shown, now: at(4.9) })).toBe(0);
    expect(await phone.look({ shown, now: at(5.01) })).toBe(1);
    expect(await phone.look({ shown, now: at(5.1) })).toBe(0);
  });

  test('a failure is told, leaves the last times, and is tried again after five minutes', async () => {
    phone.broken = true;
    expect(await phone.look()).toBe(1);
    expect(phone.failures).toHaveLength(1);
    expect(phone.kept).toEqual({});
    phone.broken = false;
    expect(await phone.look({ now: at(3.05) })).toBe(0);
    expect(await phone.look({ now: at(3.1) })).toBe(1);
    expect(phone.kept['Oak Lane']).toBeDefined();
  });
});
