// Drawn histories of a company of many jobs: whatever is cut, killed, emptied, restored or done by another tab, a job that
// a phone names as held is complete as far as it read the log, and nothing written is lost or doubled.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { Clock } from '../../../pwa/src/shared/clock';
import { fold } from '../../../pwa/src/shared/fold';
import type { Event } from '../../../pwa/src/shared/event';
import type { EventId, JobId } from '../../../pwa/src/shared/events';
import { readMeta } from '../../../pwa/src/shared/store/meta';
import { CarryingPhone, Killed } from './carrying-phone';
import { uuid } from './phone';
import { ServerModel } from './server-model';

const JOBS = Array.from({ length: 8 }, (_, n) => uuid(0x100 + n) as JobId);
const someJob = fc.nat(JOBS.length - 1);
const phone = fc.nat(1);
const faults = ['none', 'none', 'lost request', 'lost answer', 'twice', 'portal', 'cut', 'kill'] as const;
type Fault = (typeof faults)[number];
const fault = fc.record({ what: fc.constantFrom(...faults), after: fc.nat(6) });

/** What may happen. `busy`: others write while each call is under way. */
const step = fc.oneof(
  { weight: 6, arbitrary: fc.record({ do: fc.constant('sync' as const), phone, fault, busy: fc.boolean(), kill: fc.boolean() }) },
  { weight: 4, arbitrary: fc.record({ do: fc.constant('open' as const), phone, job: someJob, fault, busy: fc.boolean(), kill: fc.boolean() }) },
  { weight: 4, arbitrary: fc.record({ do: fc.constant('office' as const), phone, job: someJob }) },
  { weight: 4, arbitrary: fc.record({ do: fc.constant('write' as const), phone, job: someJob }) },
  { weight: 2, arbitrary: fc.record({ do: fc.constant('both' as const), phone, job: someJob, busy: fc.boolean() }) },
  { weight: 2, arbitrary: fc.record({ do: fc.constant('near' as const), phone, jobs: fc.uniqueArray(someJob, { maxLength: 3 }) }) },
  { weight: 2, arbitrary: fc.record({ do: fc.constant('acknowledge' as const), phone, job: someJob, fault }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constantFrom('restart' as const, 'tab' as const, 'evict' as const, 'join' as const, 'month' as const), phone }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('restore' as const), phone, back: fc.integer({ min: 1, max: 6 }) }) },
);
type Step = typeof step extends fc.Arbitrary<infer T> ? T : never;

class World {
  private ms = Date.parse('2026-07-14T13:00:00Z');
  private fault: Fault = 'none';
  private spared = 0;
  private busy = false;
  private made = 0;
  private readonly office = new Clock(uuid(0xaaaaaa));
  /** Of the office's entries, those a restore took from the server; its desk offers them again in the end. */
  private taken: Event[] = [];
  readonly server = new ServerModel(() => this.ms);
  readonly phones: CarryingPhone[] = [];
  readonly written = new Set<string>();

  constructor() {
    for (let n = 0; n < 2; n += 1) this.phones.push(new CarryingPhone(this.server, (path, init) => this.carry(path, init), () => this.ms));
  }

  async begin(jobs: number): Promise<void> {
    for (const job of JOBS.slice(0, jobs)) this.byOffice(job, 'job.opened', { name: job, use: 'patio' });
    this.server.carried = JOBS.slice(0, 2);
    for (const one of this.phones) await one.join();
  }

  byOffice(job: JobId, kind = 'note.written', body: object = { text: String(this.made) }): void {
    this.made += 1;
    this.ms += 10;
    const event = { id: uuid(0x100000 + this.made), job, kind, body, at: new Date(this.ms).toISOString(), clock: this.office.tick(this.ms), device: this.office.device, author: uuid(0xeee), raw_at: null };
    this.append(event as unknown as Event);
    this.written.add(event.id);
  }

  private append(event: Event): void {
    if (this.server.log.some(({ id }) => id === event.id)) return;
    this.server.log.push({ ...event, seq: (this.server.log.at(-1)?.seq ?? 0) + 1, received_at: event.at } as never);
  }

  private async carry(path: string, init?: RequestInit): Promise<Response> {
    this.ms += 5;
    if (this.busy) this.byOffice(JOBS[this.made % JOBS.length] as JobId);
    const fault = this.spared > 0 ? 'none' : this.fault;
    this.spared -= 1;
    if (fault === 'lost request') throw new TypeError('fetch failed');
    if (fault === 'portal') return new Response('<html>', { headers: { 'Content-Type': 'text/html' } });
    if (fault === 'twice') await this.server.fetch(path, init);
    const answer = await this.server.fetch(path, init);
    if (this.busy) this.byOffice(JOBS[(this.made * 3) % JOBS.length] as JobId);
    if (fault === 'lost answer') throw new TypeError('connection reset');
    if (fault === 'kill') throw path.startsWith('/api/sync') ? new TypeError('gone') : new Killed('killed');
    if (fault === 'cut') return new Response((await answer.text()).slice(0, 40), { headers: { 'Content-Type': 'application/json' } });
    return answer;
  }

  private async under<T>(what: { fault?: { what: Fault; after: number }; busy?: boolean }, work: () => Promise<T>): Promise<T> {
    this.fault = what.fault?.what ?? 'none';
    this.spared = what.fault?.after ?? 0;
    this.busy = what.busy ?? false;
    try {
      return await work();
    } finally {
      this.fault = 'none';
      this.busy = false;
    }
  }

  async act(what: Step): Promise<void> {
    this.ms += 700;
    const one = this.phones[what.phone] as CarryingPhone;
    if (what.do === 'sync') await this.under(what, () => this.killing(one, what.kill, () => one.sync(3)));
    else if (what.do === 'open') await this.under(what, () => this.killing(one, what.kill, () => one.open(JOBS[what.job] as JobId)));
    else if (what.do === 'both') await this.under(what, () => Promise.all([one.sync(6), one.open(JOBS[what.job] as JobId)]));
    else if (what.do === 'office') this.byOffice(JOBS[what.job] as JobId);
    else if (what.do === 'write') this.written.add(await one.book.record(JOBS[what.job] as JobId, 'note.written', { text: `${this.written.size}` }));
    else if (what.do === 'near') this.server.carried = what.jobs.map((job) => JOBS[job] as string);
    else if (what.do === 'acknowledge') await this.under(what, () => one.acknowledge(JOBS[what.job] as JobId));
    else if (what.do === 'restore') this.restore(what.back);
    else if (what.do === 'month') this.ms += 40 * 86_400_000;
    else if (what.do === 'tab') one.lead = 1 - one.lead;
    else if (what.do === 'evict') await one.evict();
    else if (what.do === 'join') await one.join();
    else await one.restart();
  }

  private async killing<T>(one: CarryingPhone, kill: boolean, work: () => Promise<T>): Promise<T> {
    one.killAfterMove = kill;
    const found = await work();
    one.killAfterMove = false;
    return found;
  }

  private restore(back: number): void {
    const keep = Math.max(0, this.server.log.length - back);
    this.taken.push(...this.server.log.slice(keep).filter(({ device }) => device === this.office.device));
    this.server.restore(keep);
  }

  /** The promise itself, on each phone's disk. */
  async check(): Promise<void> {
    for (const one of this.phones) {
      const [carry, cursor, epoch] = await one.disk(async (db) => [await readMeta(db, 'carry'), await readMeta(db, 'cursor'), await readMeta(db, 'epoch')] as const);
      if (epoch !== this.server.epoch) continue; // the next sync begins anew
      const here = new Set((await one.events()).map(({ id }) => id as string));
      const upTo = carry?.cursor ?? cursor ?? 0;
      const gap = this.server.log.filter(({ seq, job, id }) => seq <= upTo && (!carry || carry.held.includes(job)) && !here.has(id));
      expect(gap.map(({ id, seq, job }) => ({ id, seq, job, upTo }))).toEqual([]);
    }
  }

  /** What the phones know and the server does not have now. */
  async onlyHere(): Promise<Map<CarryingPhone, Set<string>>> {
    const there = new Set(this.server.log.map(({ id }) => id as string));
    const found = new Map<CarryingPhone, Set<string>>();
    for (const one of this.phones) found.set(one, new Set((await one.events()).map(({ id }) => id as string).filter((id) => !there.has(id))));
    return found;
  }

  async heal(): Promise<void> {
    for (const event of this.taken) this.append(event);
    for (let round = 0; round < 4; round += 1) for (const one of this.phones) expect(await one.sync(200)).toBe(true);
  }
}

/** After a restore a phone may know what nobody can offer again: its author's database was emptied since. */
async function whole(world: World, restored: boolean): Promise<void> {
  const there = new Set(world.server.log.map(({ id }) => id as string));
  expect(world.server.log.map(({ id }) => id as string).sort()).toEqual([...new Set(world.server.log.map(({ id }) => id as string))].sort());
  for (const one of world.phones) {
    expect(await one.disk((db) => db.count('outbox'))).toBe(0);
    const carry = await one.carry();
    const lately = (await one.disk((db) => readMeta(db, 'lately'))) ?? [];
    const known = new Set(world.server.log.map(({ job }) => job as string));
    if (carry) expect([...world.server.carried, ...lately].filter((job) => known.has(job) && !carry.held.includes(job))).toEqual([]);
    for (const job of carry ? (carry.held as JobId[]) : JOBS) {
      const server = world.server.log.filter((event) => event.job === job);
      const here = (await one.book.events(job)).filter(({ id }) => !restored || there.has(id));
      expect(here.map(({ id }) => id).sort()).toEqual(server.map(({ id }) => id).sort());
      expect(fold(here, job)).toEqual(fold(server, job));
    }
    const shown = one.book.jobs.value.map(({ id }) => id as string).sort();
    const held = new Set(carry?.held ?? JOBS);
    expect(shown.filter((job) => !held.has(job))).toEqual([]);
    const views = one.book.jobs.value.map((view) => [view.id, view.notes.length]);
    await one.restart();
    expect(one.book.jobs.value.map((view) => [view.id, view.notes.length])).toEqual(views);
    one.steady.close();
  }
}

const RUNS = Number(process.env['SLABTIDE_RUNS'] ?? 80);

test('no history leaves a gap in a held job, loses an entry or doubles one', async () => {
  await fc.assert(
    fc.asyncProperty(fc.integer({ min: 1, max: JOBS.length }), fc.array(step, { minLength: 5, maxLength: 45 }), async (jobs, steps) => {
      const world = new World();
      await world.begin(jobs);
      for (const one of steps) {
        const before = await world.onlyHere();
        await world.act(one);
        await world.check();
        const there = new Set(world.server.log.map(({ id }) => id as string));
        for (const [phone, ids] of before) {
          if (one.do === 'evict' && phone === world.phones[one.phone]) continue; // its unsent is looked for in the end
          const here = new Set((await phone.events()).map(({ id }) => id as string));
          expect([...ids].filter((id) => !here.has(id) && !there.has(id))).toEqual([]);
        }
      }
      await world.heal();
      await world.check();
      const there = new Set(world.server.log.map(({ id }) => id as string));
      const restored = steps.some((one) => one.do === 'restore');
      if (!restored) expect([...world.written].filter((id) => !there.has(id as EventId))).toEqual([]);
      await whole(world, restored);
    }),
    { numRuns: RUNS, endOnFailure: false },
  );
}, 600_000);
