import { beforeEach, describe, expect, test } from 'vitest';
import { keepPicture } from '../../../pwa/src/page/log/photos';
import { leave } from '../../../pwa/src/shared/store/membership';
import type { Fetch } from '../../../pwa/src/shared/store/offer';
import { Phone } from './phone';
import { ServerModel } from './server-model';

let nowMs = Date.parse('2026-07-14T13:00:00Z');
let server: ServerModel;
let phone: Phone;
let network: Fetch;

beforeEach(async () => {
  nowMs = Date.parse('2026-07-14T13:00:00Z');
  server = new ServerModel(() => nowMs);
  network = (path, init) => server.fetch(path, init);
  phone = new Phone((path, init) => network(path, init), () => nowMs);
  await phone.join(server.enrol(phone.device));
});

async function notes(count: number): Promise<void> {
  await Promise.all(Array.from({ length: count }, (_, index) => phone.note(`note ${index}`)));
}

const html = (status: number): Response => new Response('<html>Log in</html>', { status, headers: { 'Content-Type': 'text/html' } });
const error = (status: number, code: string): Response =>
  new Response(JSON.stringify({ error: { code, message: 'm', do: 'd' } }), { status, headers: { 'Content-Type': 'application/json' } });

describe('the outbox lets go of an event only when a JSON answer names it', () => {
  const answers: [string, string, () => Promise<Response>][] = [
    ['a captive portal’s page', 'portal', async () => html(200)],
    ['a redirect', 'portal', async () => html(302)],
    ['a 401 from a proxy', 'portal', async () => html(401)],
    ['a 413 from a proxy', 'too_many', async () => html(413)],
    ['a 500', 'broken', async () => html(500)],
    ['a 502', 'broken', async () => html(502)],
    ['a 401 of the server', 'unknown', async () => error(401, 'token_unknown')],
    ['a 400 of the server', 'declined', async () => error(400, 'malformed')],
    ['a refused connection', 'cut', async () => { throw new TypeError('fetch failed'); }],
    ['a JSON body that breaks off', 'cut', async () => new Response('{"accepted":["', { headers: { 'Content-Type': 'application/json' } })],
    ['JSON of somebody else', 'portal', async () => new Response('{"ok":true}', { headers: { 'Content-Type': 'application/json' } })],
    ['no answer at all', 'cut', () => new Promise((_, reject) => setTimeout(() => reject(new Error('time out')), 20))],
  ];
  test.each(answers)('%s keeps all 50', async (_, kind, answer) => {
    await notes(50);
    network = answer;
    const outcome = await phone.run.round();
    expect(outcome).toMatchObject({ kind });
    expect(await phone.waiting()).toBe(50);
    network = (path, init) => server.fetch(path, init);
    expect(await phone.run.drain()).toBe('done');
    expect(await phone.waiting()).toBe(0);
    expect(server.log).toHaveLength(50);
  });
});

test('an answer that names only some releases only those', async () => {
  await notes(10);
  network = async (path, init) => {
    const whole = (await (await server.fetch(path, init)).json()) as { accepted: string[] };
    return new Response(JSON.stringify({ ...whole, accepted: whole.accepted.slice(0, 4) }), { headers: { 'Content-Type': 'application/json' } });
  };
  await phone.run.round();
  expect(await phone.waiting()).toBe(6);
  expect(phone.book.unsent.value.count).toBe(6);
});

test('an answer lost after the server took the events doubles nothing', async () => {
  await notes(20);
  network = async (path, init) => {
    await server.fetch(path, init);
    throw new TypeError('connection reset');
  };
  await phone.run.round();
  network = (path, init) => server.fetch(path, init);
  await phone.run.drain();
  expect(server.log).toHaveLength(20);
  expect(new Set(server.log.map(({ id }) => id)).size).toBe(20);
  expect(await phone.waiting()).toBe(0);
});

test('a poisoned event in the middle goes to quarantine with its reason, and the others go through', async () => {
  await notes(100);
  const poisoned = (await phone.log())[50]?.id;
  server.refuse = ({ id }) => (id === poisoned ? 'body' : null);
  await phone.run.drain();
  expect(server.log).toHaveLength(99);
  const { count, rejected } = phone.book.unsent.value;
  expect(count).toBe(0);
  expect(rejected).toMatchObject([{ id: poisoned, why: { code: 'body' } }]);
});

test('a rejected event can be offered again or thrown away', async () => {
  await notes(2);
  server.refuse = () => 'role_not_allowed';
  await phone.run.drain();
  const [first, second] = phone.book.unsent.value.rejected;
  server.refuse = () => null;
  await phone.book.tryAgain(first?.id ?? '');
  await phone.book.discardRejected(second?.id ?? '');
  await phone.run.drain();
  expect(server.log.map(({ id }) => id)).toEqual([first?.id]);
  expect(phone.book.unsent.value).toEqual({ count: 0, oldestAt: null, rejected: [] });
});

test('a few events that break the server do not hold up the rest', async () => {
  await notes(40);
  const bad = new Set((await phone.log()).slice(0, 3).map(({ id }) => id));
  network = async (path, init) => {
    const text = init?.body instanceof ArrayBuffer ? await new Response(new Blob([init.body]).stream().pipeThrough(new DecompressionStream('gzip'))).text() : String(init?.body);
    return [...bad].some((id) => text.includes(id)) ? html(500) : server.fetch(path, init);
  };
  for (let round = 0; round < 60 && server.log.length < 35; round += 1) await phone.run.drain();
  expect(server.log.length).toBeGreaterThanOrEqual(35);
  expect(await phone.waiting()).toBe(40 - server.log.length);
});

test('a restored server gets all own events back without anyone doing anything', async () => {
  await notes(30);
  await phone.run.drain();
  server.restore(10);
  await phone.run.drain();
  expect(server.log).toHaveLength(30);
  expect(await phone.waiting()).toBe(0);
  expect(await phone.log()).toHaveLength(30);
});

test('a revoked device keeps what is unsent, and sends it after joining again', async () => {
  await notes(3);
  server.revoke(phone.device);
  expect(await phone.run.round()).toMatchObject({ kind: 'revoked' });
  const again = new Phone((path, init) => network(path, init), () => nowMs);
  const unsent = await phone.steady.run((db) => db.count('outbox'));
  expect(unsent).toBe(3);
  Object.assign(phone, { device: again.device });
  await phone.join(server.enrol(again.device));
  await phone.run.drain();
  expect(server.log.map(({ device }) => device)).toEqual([again.device, again.device, again.device]);
});

test('work for another company is set aside, not sent to this one', async () => {
  await notes(2);
  await phone.join(server.enrol(phone.device), 'epoch-1', 'company-2');
  await phone.run.drain();
  expect(server.log).toHaveLength(0);
  expect(phone.book.unsent.value.rejected.map(({ why }) => why.code)).toEqual(['other_company', 'other_company']);
});

test('over a line that dies after a few kilobytes all that is unsent gets through, news or no news', async () => {
  const other = new Phone((path, init) => server.fetch(path, init), () => nowMs);
  await other.join(server.enrol(other.device));
  await Promise.all(Array.from({ length: 300 }, (_, index) => other.note(`theirs ${index}`)));
  await other.run.drain();
  await notes(60);
  network = async (path, init) => {
    const text = await (await server.fetch(path, init)).text();
    if (text.length > 3_000) throw new TypeError('connection reset');
    return new Response(text, { headers: { 'Content-Type': 'application/json' } });
  };
  for (let round = 0; round < 60 && (await phone.waiting()) > 0; round += 1) await phone.run.drain();
  expect(await phone.waiting()).toBe(0);
  network = (path, init) => server.fetch(path, init);
  expect(await phone.run.drain()).toBe('done');
  expect(await phone.log()).toHaveLength(360);
});

test('unsent photos outlive signing out, and go to no other company', async () => {
  const picture = { bytes: new Uint8Array(1_000).buffer, mime: 'image/jpeg' };
  await keepPicture(phone.steady, picture, 'now');
  await phone.steady.run(leave);
  expect(await phone.steady.run((db) => db.countFromIndex('photos', 'waiting', 1))).toBe(1);
  await phone.join(server.enrol(phone.device), 'epoch-1', 'company-2');
  expect(await phone.steady.run((db) => db.count('photos'))).toBe(0);
  expect(await phone.steady.run((db) => db.count('photoChunks'))).toBe(0);
});

test('a long queue goes in one stretch: each call is under way before the last one is settled, and nothing goes twice', async () => {
  await notes(1_200);
  let open = 0;
  network = async (path, init) => {
    open += 1;
    expect(open).toBe(1);
    const answer = await server.fetch(path, init);
    open -= 1;
    return answer;
  };
  expect(await phone.run.drain()).toBe('done');
  expect(server.log).toHaveLength(1_200);
  expect(server.offered).toBe(1_200);
  expect(await phone.waiting()).toBe(0);
  expect(phone.book.unsent.value.count).toBe(0);
});
