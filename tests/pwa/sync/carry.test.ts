import { expect, test } from 'vitest';
import { Clock } from '../../../pwa/src/shared/clock';
import type { Event } from '../../../pwa/src/shared/event';
import type { JobId } from '../../../pwa/src/shared/events';
import { letGo } from '../../../pwa/src/shared/store/carry';
import { putMeta, readMeta, writeMeta } from '../../../pwa/src/shared/store/meta';
import { MOST_NAMED, placeOf } from '../../../pwa/src/shared/store/place';
import { write } from '../../../pwa/src/shared/store/database';
import { leave } from '../../../pwa/src/shared/store/membership';
import { writePhoto } from '../../../pwa/src/page/log/photo-store';
import { readPage } from '../../../pwa/src/page/sync/carry/page-of';
import { OWN_STAYS_MS } from '../../../pwa/src/page/sync/carry/carrier';
import { CarryingPhone, WHOLE } from './carrying-phone';
import { uuid } from './phone';
import { ServerModel } from './server-model';

const job = (n: number): JobId => uuid(0x200 + n) as JobId;
const office = new Clock(uuid(0xbbbbbb));
let made = 0;

class Company {
  ms = Date.parse('2026-07-14T13:00:00Z');
  readonly server = new ServerModel(() => this.ms);
  readonly asked: { path: string; body: { held?: string[]; cursor: number; own?: boolean } | null }[] = [];
  /** What becomes of the n-th call from now; null lets it through. */
  fault: (n: number, path: string) => Response | 'cut' | null = () => null;
  /** What happens while an answer is on its way. */
  between: (path: string) => Promise<void> = () => Promise.resolve();
  readonly phone = new CarryingPhone(this.server, (path, init) => this.answer(path, init), () => this.ms);

  constructor(jobs: number, near: readonly number[]) {
    for (let n = 0; n < jobs; n += 1) for (const kind of ['job.opened', 'note.written']) this.write(n, kind);
    this.server.carried = near.map(job);
  }

  write(n: number, kind = 'note.written', body: object = kind === 'job.opened' ? { name: `Job ${n}`, use: 'patio' } : { text: 'Fogged.' }): string {
    made += 1;
    this.ms += 10;
    const event = { id: uuid(0x900000 + made), job: job(n), kind, body, at: new Date(this.ms).toISOString(), clock: office.tick(this.ms), device: office.device, author: uuid(0xeee), raw_at: null };
    this.server.log.push({ ...event, seq: (this.server.log.at(-1)?.seq ?? 0) + 1, received_at: event.at } as never);
    return event.id;
  }

  private async answer(path: string, init?: RequestInit): Promise<Response> {
    const body = typeof init?.body === 'string' ? (JSON.parse(init.body) as Company['asked'][number]['body']) : null;
    this.asked.push({ path, body });
    const fault = this.fault(this.asked.length, path);
    if (fault === 'cut') throw new TypeError('no line');
    if (fault) return fault;
    const answer = await this.server.fetch(path, init);
    await this.between(path);
    return answer;
  }

  async join(): Promise<CarryingPhone> {
    await this.phone.join();
    return this.phone;
  }

  syncs(): Company['asked'] {
    return this.asked.filter(({ path }) => path.startsWith('/api/sync'));
  }

  /** By job, how many entries lie on the phone. */
  async here(): Promise<Record<string, number>> {
    const found: Record<string, number> = {};
    for (const event of await this.phone.events()) found[event.job] = (found[event.job] ?? 0) + 1;
    return found;
  }
}

const shown = (phone: CarryingPhone): string[] => phone.book.jobs.value.map(({ id }) => id as string).sort();

test('a small company is held whole: it asks for the number of jobs once, and never names any', async () => {
  const company = new Company(WHOLE, [0]);
  const phone = await company.join();
  expect(await phone.sync()).toBe(true);
  expect(await phone.sync()).toBe(true);
  expect([await phone.carry(), shown(phone)]).toEqual([undefined, [job(0), job(1), job(2)]]);
  expect(company.asked.filter(({ path }) => path.startsWith('/api/jobs'))).toHaveLength(1);
  expect(company.syncs().every(({ body }) => body?.held === undefined)).toBe(true);
});

test('a phone that joins a company of many jobs brings those that are near and no others', async () => {
  const company = new Company(9, [4, 2]);
  const phone = await company.join();
  expect(await phone.sync()).toBe(true);
  expect(await company.here()).toEqual({ [job(2)]: 2, [job(4)]: 2 });
  expect(await phone.held()).toEqual([job(2), job(4)]);
  company.write(2);
  company.write(7);
  await phone.sync();
  expect([await company.here(), company.syncs().at(-1)?.body?.held?.toSorted()]).toEqual([{ [job(2)]: 3, [job(4)]: 2 }, [job(2), job(4)]]);
});

test('a job that becomes near comes, one that is near no more goes, and comes back whole when it is opened', async () => {
  const company = new Company(9, [1]);
  const phone = await company.join();
  await phone.sync();
  company.server.carried = [job(3)];
  await phone.sync();
  expect([await phone.held(), await company.here(), shown(phone)]).toEqual([[job(3)], { [job(3)]: 2 }, [job(3)]]);
  company.write(1);
  expect(await phone.open(job(1))).toBe('held');
  await phone.sync();
  expect([await company.here(), shown(phone)]).toEqual([{ [job(1)]: 3, [job(3)]: 2 }, [job(1), job(3)]]);
});

test('a phone that held everything goes on from where it was, and lets go only of what is far', async () => {
  const company = new Company(9, []);
  const phone = await company.join();
  company.fault = (_n, path) => (path.startsWith('/api/jobs') ? new Response('{}', { status: 404 }) : null); // as an older app joined
  await phone.tab.run.drain();
  expect([Object.keys(await company.here()).length, await phone.carry()]).toEqual([9, undefined]);
  company.fault = () => null;
  company.server.carried = [job(0)];
  await phone.disk((db) => writeMeta(db, 'lately', [job(5)]));
  const own = await phone.book.record(job(6), 'note.written', { text: 'Mine.' });
  await phone.sync();
  expect(await phone.held()).toEqual([job(0), job(5), job(6)]);
  expect(company.server.log.map(({ id }) => id)).toContain(own);
  expect(company.syncs().every(({ body }) => body?.cursor !== 0 || body.own === true)).toBe(true);
  company.write(5);
  await phone.sync();
  expect(await company.here()).toEqual({ [job(0)]: 2, [job(5)]: 3, [job(6)]: 3 });
});

test('a job with unsent work, a refused entry or a picture that is not sent is never let go', async () => {
  const company = new Company(9, [0, 1, 2, 3]);
  const phone = await company.join();
  await phone.sync();
  const photo = 'a'.repeat(64);
  company.write(1, 'photo.taken', { photo });
  await phone.sync();
  await phone.disk((db) => writePhoto(db, photo, { bytes: new Uint8Array([1, 2]).buffer, mime: 'image/jpeg' }, 'now', 1));
  company.ms += 2 * OWN_STAYS_MS;
  await phone.book.record(job(0), 'note.written', { text: 'Unsent.' });
  const events = await phone.events();
  const refused = events.find((one) => one.job === job(2)) as Event;
  await phone.disk((db) => write(db, ['rejected'], (tx) => tx.objectStore('rejected').put({ id: 'r', event: refused, why: { code: 'c', message: 'm', do: '' }, at: 'now' })));
  const gone = await phone.disk((db) => letGo(db, [job(0), job(1), job(2), job(3)], { ownSinceMs: Infinity, seen: null }));
  expect([gone, await phone.held()]).toEqual([[job(3)], [job(0), job(1), job(2)]]);
  expect(await phone.disk((db) => db.count('photos'))).toBe(1);
});

test('what this phone wrote stays a month, for a server put back from a backup asks for it', async () => {
  const company = new Company(9, [0]);
  const phone = await company.join();
  await phone.sync();
  await phone.book.record(job(0), 'note.written', { text: 'Mine.' });
  await phone.sync();
  company.server.carried = [job(1)];
  await phone.sync();
  expect(await phone.held()).toEqual([job(0), job(1)]);
  company.ms += OWN_STAYS_MS + 60_000;
  await phone.sync();
  expect(await phone.held()).toEqual([job(1)]);
});

test('the pictures of a job that goes go with it, where the server has them', async () => {
  const company = new Company(9, [0]);
  const phone = await company.join();
  const [sent, other] = ['a'.repeat(64), 'b'.repeat(64)];
  company.write(0, 'photo.taken', { photo: sent });
  await phone.sync();
  for (const photo of [sent, other]) await phone.disk((db) => writePhoto(db, photo, { bytes: new Uint8Array([1]).buffer, mime: 'image/jpeg' }, 'now', 0));
  company.server.carried = [];
  await phone.sync();
  expect(await phone.disk((db) => db.getAllKeys('photos'))).toEqual([other]);
  expect(await phone.disk((db) => db.count('photoChunks'))).toBe(1);
});

test('after a restore nothing goes that the server does not have any more', async () => {
  const company = new Company(9, [0, 1]);
  const phone = await company.join();
  company.write(0);
  await phone.sync();
  company.server.restore(18);
  company.server.carried = [job(2)];
  await phone.sync();
  await phone.sync();
  expect(await phone.held()).toEqual([job(0), job(2)]);
  expect((await company.here())[job(0)]).toBe(3);
});

test('a job is taken on whole or not at all, wherever its fetching breaks off', async () => {
  const portal = (): Response => new Response('<html>', { headers: { 'Content-Type': 'text/html' } });
  const strange = (): Response => new Response(JSON.stringify({ events: [], cursor: 1, more: true, epoch: 'x', jobs: 1 }));
  const broken = (): Response => new Response('{"error":{"code":"broken","message":"","do":""}}', { status: 500 });
  for (const what of ['cut' as const, portal, strange, broken]) {
    for (let at = 1; at <= 4; at += 1) {
      const company = new Company(9, [0]);
      const phone = await company.join();
      for (let n = 0; n < 9; n += 1) company.write(5);
      await phone.sync();
      const before = await phone.events();
      let pages = 0;
      company.fault = (_n, path) => {
        if (!path.includes('/events')) return null;
        pages += 1;
        return pages < at ? null : what === 'cut' ? 'cut' : what();
      };
      expect(await phone.open(job(5))).toBe('failed');
      expect([await phone.held(), await phone.events(), shown(phone)]).toEqual([[job(0)], before, [job(0)]]);
      company.fault = () => null;
      expect(await phone.open(job(5))).toBe('held');
      expect((await company.here())[job(5)]).toBe(11);
    }
  }
});

test('entries come in smaller pages where a whole one does not get through', async () => {
  const company = new Company(9, []);
  const phone = await company.join();
  await phone.sync();
  company.fault = (_n, path) => (Number(/limit=(\d+)/.exec(path)?.[1] ?? 0) > 100 && path.includes('/events') ? 'cut' : null);
  expect(await phone.open(job(5))).toBe('held');
});

test('a log that goes on while a job is fetched leaves no gap between', async () => {
  const company = new Company(9, [0]);
  const phone = await company.join();
  await phone.sync();
  let late = 0;
  company.between = async (path) => {
    if (!path.includes('/events') || late === 3) return;
    late += 1;
    company.write(5);
    await phone.tab.run.drain(); // the phone reads past an entry of a job that it does not name yet
  };
  expect(await phone.open(job(5))).toBe('held');
  expect([(await company.here())[job(5)], (await phone.carry())?.cursor]).toEqual([5, 21]);
  // and a job that is taken on while a call is under way that did not name it
  company.between = async (path) => {
    if (path !== '/api/sync' || late === 4) return;
    late += 1;
    await phone.open(job(6));
    company.write(6);
  };
  company.write(6);
  await phone.sync();
  expect([await phone.held(), (await company.here())[job(6)]]).toEqual([[job(0), job(5), job(6)], 3]);
  company.between = () => Promise.resolve();
  await phone.sync();
  expect((await company.here())[job(6)]).toBe(4);
});

test('a company that cannot be asked for its number of jobs is not read at all by a phone that has nothing to send', async () => {
  const company = new Company(9, [0]);
  const phone = await company.join();
  company.fault = (_n, path) => (path.startsWith('/api/jobs') ? 'cut' : null);
  expect([await phone.sync(), await phone.events(), company.syncs()]).toEqual([false, [], []]);
  await phone.book.record(job(0), 'note.written', { text: 'Unsent.' });
  await phone.sync(1);
  expect(company.server.log.at(-1)?.body).toEqual({ text: 'Unsent.' });
});

test('a job that nobody knows is not held', async () => {
  const company = new Company(9, [0]);
  const phone = await company.join();
  await phone.sync();
  expect([await phone.open(job(77)), await phone.open('lost,1' as JobId), await phone.held()]).toEqual(['unknown', 'unknown', [job(0)]]);
});

test('a job begun here is held before anybody else writes to it', async () => {
  const company = new Company(9, [0]);
  const phone = await company.join();
  await phone.sync();
  await phone.book.record(job(50), 'job.opened', { name: 'New', use: 'walk' } as never);
  await phone.sync();
  company.write(50);
  await phone.sync();
  expect([await phone.held(), (await company.here())[job(50)]]).toEqual([[job(0), job(50)], 2]);
});

test('a list too long for one call is left out of it, and what is not held is put aside on arrival', async () => {
  const held = Array.from({ length: MOST_NAMED + 1 }, (_, n) => job(1_000 + n));
  expect(placeOf({ held, cursor: 7 }, 0)).toEqual({ cursor: 7 });
  expect(placeOf({ held: held.slice(1), cursor: 7 }, 0).held).toHaveLength(MOST_NAMED);
  const company = new Company(9, [0]);
  const phone = await company.join();
  await phone.sync();
  await phone.disk((db) => write(db, ['meta'], (tx) => putMeta(tx.objectStore('meta'), 'carry', { held: [job(0), ...held], cursor: 18 })));
  company.write(0);
  company.write(5);
  await phone.tab.run.drain();
  expect([company.syncs().at(-1)?.body?.held, await company.here()]).toEqual([undefined, { [job(0)]: 3 }]);
});

test('a page is believed only when it is of this job and leads on', () => {
  const event = { id: 'a', clock: 'c', job: job(1) };
  const page = { events: [event], cursor: 5, more: false, epoch: 'e' };
  expect(readPage(page, job(1), 0)?.events).toEqual([event]);
  for (const wrong of [null, [], 'x', { ...page, events: [{ ...event, job: job(2) }] }, { ...page, events: [{}] }, { ...page, cursor: -1 }, { ...page, cursor: 0, more: true }, { ...page, epoch: null }, { ...page, more: 1 }]) {
    expect(readPage(wrong, job(1), 0)).toBeNull();
  }
});

test.each(['emptied', 'joined anew', 'left'] as const)('an answer that comes after the database was %s moves nothing', async (what) => {
  for (const jobs of [WHOLE, 9]) {
    const company = new Company(jobs, [0]);
    const phone = await company.join();
    await phone.sync();
    company.write(0);
    const { run } = phone.tab;
    let done = false;
    company.between = async (path) => {
      if (path !== '/api/sync' || done) return;
      done = true;
      if (what === 'emptied') await phone.evict();
      else if (what === 'left') await phone.disk(leave);
      else await phone.join();
    };
    await run.round();
    const [carry, cursor] = await phone.disk(async (db) => [await readMeta(db, 'carry'), await readMeta(db, 'cursor')] as const);
    expect([done, carry?.cursor ?? cursor ?? 0]).toEqual([true, 0]);
    if (what === 'left') expect([await phone.events(), await phone.disk((db) => readMeta(db, 'epoch'))]).toEqual([[], undefined]);
    else expect([await phone.sync(), (await company.here())[job(0)]]).toEqual([true, 3]);
  }
});
