import fc from 'fast-check';
import { expect, test } from 'vitest';
import { Book } from '../../../pwa/src/page/log/book';
import { fold } from '../../../pwa/src/shared/fold';
import type { EventId } from '../../../pwa/src/shared/events';
import { job, Phone } from './phone';
import { ServerModel } from './server-model';

/** What may happen to one phone; `skewMin` sets its clock. */
const step = fc.oneof(
  { weight: 5, arbitrary: fc.record({ do: fc.constant('write' as const), phone: fc.nat(3), count: fc.integer({ min: 1, max: 12 }) }) },
  { weight: 2, arbitrary: fc.record({ do: fc.constant('undo' as const), phone: fc.nat(3) }) },
  { weight: 5, arbitrary: fc.record({ do: fc.constant('sync' as const), phone: fc.nat(3), fault: fc.constantFrom('none', 'lost request', 'lost answer', 'twice', 'portal', 'cut'), after: fc.nat(2) }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('restart' as const), phone: fc.nat(3) }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('skew' as const), phone: fc.nat(3), minutes: fc.integer({ min: -1_500, max: 1_500 }) }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('restore' as const), phone: fc.nat(3), back: fc.nat(5) }) },
);
type Fault = 'none' | 'lost request' | 'lost answer' | 'twice' | 'portal' | 'cut';

class World {
  private ms = Date.parse('2026-07-14T13:00:00Z');
  private readonly skews: number[];
  private fault: Fault = 'none';
  /** Calls that go well before the fault comes. */
  private spared = 0;
  readonly server = new ServerModel(() => this.ms);
  readonly phones: Phone[];
  readonly written = new Set<string>();
  private readonly own: EventId[][];

  constructor(count: number) {
    this.skews = Array.from({ length: count }, () => 0);
    this.own = Array.from({ length: count }, () => []);
    this.phones = this.skews.map((_, index) => new Phone((path, init) => this.carry(path, init), () => this.ms + (this.skews[index] ?? 0), 5));
  }

  async join(): Promise<void> {
    for (const phone of this.phones) await phone.join(this.server.enrol(phone.device));
  }

  private async carry(path: string, init?: RequestInit): Promise<Response> {
    if (this.spared > 0) {
      this.spared -= 1;
      return this.server.fetch(path, init);
    }
    if (this.fault === 'lost request') throw new TypeError('fetch failed');
    if (this.fault === 'portal') return new Response('<html>', { headers: { 'Content-Type': 'text/html' } });
    if (this.fault === 'twice') await this.server.fetch(path, init);
    const answer = await this.server.fetch(path, init);
    if (this.fault === 'lost answer') throw new TypeError('connection reset');
    if (this.fault === 'cut') return new Response((await answer.text()).slice(0, 40), { headers: { 'Content-Type': 'application/json' } });
    return answer;
  }

  async act(what: (typeof step extends fc.Arbitrary<infer T> ? T : never)): Promise<void> {
    this.ms += 700;
    const index = what.phone % this.phones.length;
    const phone = this.phones[index] as Phone;
    if (what.do === 'write') await this.write(index, phone, what.count);
    else if (what.do === 'undo') await this.undo(index, phone);
    else if (what.do === 'skew') this.skews[index] = what.minutes * 60_000;
    else if (what.do === 'restore') this.server.restore(Math.max(0, this.server.log.length - what.back));
    else if (what.do === 'restart') await this.restart(phone);
    else {
      this.fault = what.fault;
      this.spared = what.after;
      await phone.run.drain(3);
      this.fault = 'none';
      this.spared = 0;
    }
  }

  private async write(index: number, phone: Phone, count: number): Promise<void> {
    const texts = Array.from({ length: count }, (_, number) => `${this.written.size + number}`);
    const ids = await Promise.all(texts.map((text) => phone.book.record(job, 'note.written', { text })));
    for (const id of ids) this.note(index, id);
  }

  private note(index: number, id: EventId): void {
    this.written.add(id);
    this.own[index]?.push(id);
  }

  private async undo(index: number, phone: Phone): Promise<void> {
    const target = this.own[index]?.at(-1);
    if (target) this.note(index, await phone.book.record(job, 'event.retracted', { event: target }));
  }

  /** The page goes and comes again: all it has is its disk. */
  private async restart(phone: Phone): Promise<void> {
    phone.steady.close();
    await phone.book.open();
  }

  async heal(): Promise<void> {
    for (let round = 0; round < 4; round += 1) {
      for (const phone of this.phones) expect(await phone.run.drain()).toBe('done');
    }
  }
}

test('2 to 4 phones over a bad network end with the same log, each event once, nothing unsent', async () => {
  const seeds = fc.record({ phones: fc.integer({ min: 2, max: 4 }), steps: fc.array(step, { minLength: 5, maxLength: 40 }) });
  await fc.assert(
    fc.asyncProperty(seeds, async ({ phones, steps }) => {
      const world = new World(phones);
      await world.join();
      for (const one of steps) await world.act(one);
      await world.heal();
      const ids = world.server.log.map(({ id }) => id as string).sort();
      expect(ids).toEqual([...world.written].sort());
      const whole = world.server.log.map(({ id, clock }) => ({ id, clock })).sort((one, other) => (one.id < other.id ? -1 : 1));
      const state = fold(world.server.log, job);
      for (const phone of world.phones) {
        expect(await phone.waiting()).toBe(0);
        expect(await phone.log()).toEqual(whole);
        expect(fold(await phone.book.events(job), job)).toEqual(state);
        const reopened = new Book(phone.steady, phone.tabs.open(), phone.rawNow);
        await reopened.open();
        expect(phone.book.jobView(job).value).toEqual(reopened.jobView(job).value);
        phone.steady.close();
      }
    }),
    { numRuns: 60, endOnFailure: false },
  );
}, 120_000);
