import { describe, expect, test } from 'vitest';
import { dueReminders, isNews } from '../../../pwa/src/page/push/due';
import { readRoute } from '../../../pwa/src/page/shell/route';
import { clockIsWrong, syncLine, type LineInput } from '../../../pwa/src/page/shell/sync-line';
import { tidyCode } from '../../../pwa/src/page/sync/session';
import type { Reminder } from '../../../pwa/src/page/sync/contract';
import { fill } from '../../../pwa/src/page/words';
import { en } from '../../../pwa/src/page/words/en';
import { es } from '../../../pwa/src/page/words/es';

const now = new Date('2026-07-14T13:00:00Z');
const id = '01920000-0000-7000-8000-000000000001';

describe('addresses', () => {
  test.each([
    ['', { at: 'home' }],
    ['#/', { at: 'home' }],
    ['#/join/ABCD2345', { at: 'join', code: 'ABCD2345' }],
    ['#/jobs', { at: 'jobs' }],
    ['#/unsent', { at: 'unsent' }],
    [`#/job/${id}`, { at: 'job', job: id, phase: null }],
    [`#/job/${id}/next-days`, { at: 'job', job: id, phase: 'next-days' }],
    [`#/job/${id}/list/touch-up`, { at: 'list', job: id, list: 'touch-up' }],
    [`#/office/${id}`, { at: 'office', job: id }],
  ])('%j', (hash, route) => expect(readRoute(hash)).toEqual(route));

  test.each(['#/elsewhere', `#/job/${id}/nowhere`, `#/job/${id}/list/nothing`, '#/job', '#/%E0%A4%A'])('%j is lost, not broken', (hash) => {
    expect(readRoute(hash).at).toBe('lost');
  });
});

describe('the line that says where the work stands', () => {
  const calm: LineInput = {
    unsent: { count: 0, oldestAt: null, rejected: [] },
    sync: { phase: 'idle', lastOk: '2026-07-14T12:59:00Z', problem: null, trouble: null, clockOffsetMs: 0 },
    online: true,
    now,
  };
  const three = { count: 3, oldestAt: '2026-07-14T12:40:00Z', rejected: [] };
  const trouble = (code: string) => ({ ...calm.sync, phase: 'problem' as const, trouble: { code, message: '', do: '' } });
  const cases: [string, Partial<LineInput>, object][] = [
    ['all is sent', {}, { tone: 'plain', key: 'shell.sync.allSent' }],
    ['work waits', { unsent: three }, { tone: 'plain', key: 'shell.sync.unsent', count: 3, oldestMin: 20 }],
    ['there is no signal', { online: false }, { key: 'shell.sync.offline' }],
    ['work waits without a signal', { online: false, unsent: three }, { key: 'shell.sync.offlineUnsent', count: 3 }],
    ['a Wi-Fi wants a login', { sync: trouble('portal'), unsent: three }, { tone: 'warn', key: 'shell.sync.portalUnsent' }],
    ['this phone was signed out', { sync: trouble('device_revoked') }, { tone: 'stop', key: 'shell.sync.revoked' }],
    ['work waits for days', { unsent: { ...three, oldestAt: '2026-07-10T12:00:00Z' } }, { tone: 'warn' }],
    ['nothing was ever synced', { sync: { ...calm.sync, lastOk: null } }, { key: 'shell.sync.first' }],
  ];
  test.each(cases)('when %s', (_, change, line) => expect(syncLine({ ...calm, ...change })).toMatchObject(line));

  test('what the server would not take comes before everything', () => {
    const rejected = [{ id, event: {} as never, why: { code: 'x', message: '', do: '' }, at: '' }];
    expect(syncLine({ ...calm, online: false, unsent: { ...three, rejected } })).toMatchObject({ tone: 'stop', key: 'shell.sync.rejected', count: 1 });
  });

  test('a wrong clock is spoken of past 60 s', () => {
    expect([59_000, -60_000, 61_000, -61_000].map(clockIsWrong)).toEqual([false, false, true, true]);
  });
});

describe('reminders the phone raises by itself', () => {
  const reminder = (change: Partial<Reminder>): Reminder => ({
    id: 'r1', job: id as Reminder['job'], what: 'saw', subject: '', stage: 'open',
    due: '2026-07-14T12:30:00Z', opens: { early: '', likely: '', late: '' }, closes: null, expires: '2026-07-14T20:00:00Z',
    state: 'planned', moved_from: null, acknowledged: null, title: { en: '', es: '' }, words: { en: '', es: '' }, ...change,
  });
  const due = (change: Partial<Reminder>, acked: string[] = []): number => dueReminders([reminder(change)], new Set(acked), now).length;

  test('stay away while someone has put them off', () => {
    const found = (putOff: boolean): number => dueReminders([reminder({})], new Set(), now, () => putOff).length;
    expect([found(true), found(false)]).toEqual([0, 1]);
  });

  test('come when due and go when past, taken here or taken elsewhere', () => {
    expect(due({})).toBe(1);
    expect(due({ due: '2026-07-14T13:01:00Z' })).toBe(0);
    expect(due({ expires: '2026-07-14T12:59:00Z' })).toBe(0);
    expect(due({}, ['r1'])).toBe(0);
    expect(due({ acknowledged: { by: 'p', at: '', via: 'app' } })).toBe(0);
    expect(due({ state: 'cancelled' })).toBe(0);
  });

  test('a last call stands before the others', () => {
    const list = [reminder({ id: 'a', stage: 'heads_up' }), reminder({ id: 'b', stage: 'last_call' }), reminder({ id: 'c' })];
    expect(dueReminders(list, new Set(), now).map((one) => one.id)).toEqual(['b', 'c', 'a']);
  });

  test('one is raised once, and again only when it moved by more than 15 minutes', () => {
    expect(isNews(reminder({}), undefined)).toBe(true);
    expect(isNews(reminder({}), '2026-07-14T12:30:00Z')).toBe(false);
    expect(isNews(reminder({}), '2026-07-14T12:45:00Z')).toBe(false);
    expect(isNews(reminder({}), '2026-07-14T12:46:00Z')).toBe(true);
  });
});

test.each([['abcd-efgh', 'ABCDEFGH'], [' ABCD EFGH ', 'ABCDEFGH'], ['oilO-2345', '01102345']])('the code %j is read as %s', (typed, code) => {
  expect(tidyCode(typed)).toBe(code);
});

describe('words', () => {
  test('fill in what is given, and choose one or many', () => {
    expect(fill('{count} {count|entry|entries}, {who}', { count: 1, who: 'Ana' })).toBe('1 entry, Ana');
    expect(fill('{count} {count|entry|entries}', { count: 0 })).toBe('0 entries');
    expect(fill('{missing}')).toBe('{missing}');
  });

  const slots = (text: string): string[] => [...new Set([...text.matchAll(/\{(\w+)/g)].map((match) => match[1] ?? ''))].sort();
  test('Spanish leaves out nothing that English fills in, and says nothing empty', () => {
    for (const key of Object.keys(en) as (keyof typeof en)[]) {
      expect([key, es[key].trim()]).not.toEqual([key, '']);
      expect([key, slots(es[key]).filter((slot) => !slots(en[key]).includes(slot))]).toEqual([key, []]);
    }
  });
});
