import { describe, expect, test } from 'vitest';
import { acknowledge } from '../../../pwa/src/sw/acknowledge';
import { local, quietly, shown } from '../../../pwa/src/sw/shown';
import { job, joinedAt, Phone, uuid } from '../sync/phone';

const reminder = uuid(0x5a3);
const payload = (change: object = {}): string =>
  JSON.stringify({
    web_push: 8030,
    notification: {
      title: 'Saw Miller patio', body: 'Saw by 6:40 pm.', navigate: `/#/job/${job}/next-days`, tag: reminder, lang: 'en',
      data: { reminder, job }, actions: [{ action: 'acknowledge', title: 'I have it' }], ...change,
    },
  });

describe('every push shows something', () => {
  test('a whole one shows its words, its tag and its action', () => {
    const { title, options } = shown(payload(), 'en');
    expect(title).toBe('Saw Miller patio');
    expect(options).toMatchObject({ body: 'Saw by 6:40 pm.', tag: reminder, renotify: true, actions: [{ action: 'acknowledge', title: 'I have it' }] });
    expect(options.data).toEqual({ navigate: `#/job/${job}/next-days`, reminder, job, what: null, due: null });
  });

  const broken = [null, '', '{', '[]', 'null', '"text"', '{}', '{"notification":7}', payload({ title: 7 }), payload({ title: '' })];
  test.each(broken)('%j shows the plain one', (text) => {
    const { title, options } = shown(text, 'es');
    expect(title).toBe('Slabtide');
    expect(options.body).toContain('trabajo');
    expect(options.actions).toBeUndefined();
  });

  test('without a reminder there is nothing to acknowledge', () => {
    expect(shown(payload({ data: {} }), 'en').options.actions).toBeUndefined();
  });

  test.each([['https://elsewhere.example/', '#/'], ['/#/now', '#/now'], [null, '#/'], ['javascript:alert(1)', '#/']])('%s opens %s', (from, to) => {
    expect(local(from)).toBe(to);
  });
});

describe('a person told already is not buzzed again, and still shown', () => {
  const due = '2026-07-14T13:00:00.000Z';
  const of = (what: string, at = due) => shown(payload({ data: { reminder, job, what, due: at } }), 'en');
  const buzzes = ({ options }: ReturnType<typeof shown>): boolean => options.renotify === true && options.silent !== true;

  test('nothing stands and nobody looks: it buzzes', () => expect(buzzes(quietly(of('texture'), [], false))).toBe(true));
  test('the phone raised the same by itself: it does not', () => {
    const quiet = quietly(of('saw'), [{ due }], false);
    expect(buzzes(quiet)).toBe(false);
    expect(quiet.options).toMatchObject({ tag: reminder, body: 'Saw by 6:40 pm.' });
  });
  test('what stands is from before a move: it buzzes', () => expect(buzzes(quietly(of('saw', '2026-07-14T13:16:00.000Z'), [{ due }], false))).toBe(true));
  test('texturing while somebody looks at the app, whose tone says it: it does not', () => expect(buzzes(quietly(of('texture'), [], true))).toBe(false));
  test.each(['check', 'saw', 'seal'])('%s while somebody looks has no tone: it buzzes', (what) => expect(buzzes(quietly(of(what), [], true))).toBe(true));
  test('from an older server that names no time: it buzzes', () => expect(buzzes(quietly(shown(payload(), 'en'), [{ due }], true))).toBe(true));
});

describe('acknowledging on the notification', () => {
  const now = Date.parse('2026-07-14T13:00:00Z');

  test('writes the event, sends it at once, and the open page knows', async () => {
    const { phone, server } = await joinedAt(now);
    const outcome = await acknowledge(phone.steady, (path, init) => server.fetch(path, init), phone.tabs.open(), reminder, job, now);
    expect(outcome).toBe('sent');
    expect(server.log).toMatchObject([{ kind: 'reminder.acknowledged', body: { reminder, via: 'notification' }, device: phone.device }]);
    expect(phone.book.unsent.value.count).toBe(0);
    expect(Object.keys(phone.book.jobView(job).value?.acks ?? {})).toEqual([reminder]);
  });

  test('without a signal it stays in the outbox and goes with the next sync', async () => {
    const { phone, server } = await joinedAt(now);
    const off = (): Promise<Response> => Promise.reject(new TypeError('fetch failed'));
    expect(await acknowledge(phone.steady, off, phone.tabs.open(), reminder, job, now)).toBe('kept');
    expect(phone.book.unsent.value.count).toBe(1);
    await phone.run.drain();
    expect(server.log).toHaveLength(1);
  });

  test('comes after what the phone wrote before, also when its clock went back', async () => {
    const { phone, server } = await joinedAt(now);
    await phone.note('before');
    await acknowledge(phone.steady, (path, init) => server.fetch(path, init), phone.tabs.open(), reminder, job, now - 3_600_000);
    await phone.run.drain();
    const [ack, note] = [...server.log].sort((one) => (one.kind === 'reminder.acknowledged' ? -1 : 1));
    expect((ack?.clock ?? '') > (note?.clock ?? '')).toBe(true);
  });

  test('on a phone that has not joined nothing is written', async () => {
    const phone = new Phone(() => Promise.reject(new Error('off')), () => now);
    await phone.book.open();
    expect(await acknowledge(phone.steady, () => Promise.reject(new Error('off')), phone.tabs.open(), reminder, job, now)).toBe('not joined');
  });
});
