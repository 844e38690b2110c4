// @vitest-environment happy-dom
// A company of thirty open jobs: which of them stand on Now, and which wait behind one line.
import { signal } from '@preact/signals';
import { render } from 'preact';
import { act } from 'preact/test-utils';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { partCards, restOpen } from '../../../pwa/src/page/now/near';
import { NowScreen } from '../../../pwa/src/page/now/screen';
import { readNow } from '../../../pwa/src/page/now/state';
import { language } from '../../../pwa/src/page/shell/preferences';
import type { JobOutlook, Outlook, Reminder } from '../../../pwa/src/page/sync/contract';
import type { JobView } from '../../../pwa/src/shared/job';
import { at, iso, job, jobOutlook, load, loadTimeline, outlook, reminder, when } from './sample';

const phone = vi.hoisted(() => ({ jobs: { value: [] as unknown[] }, told: { value: null as unknown }, now: { value: new Date(0) } }));
vi.mock('../../../pwa/src/page/log/journal', async (real) => ({ ...(await real<object>()), jobs: phone.jobs }));
vi.mock('../../../pwa/src/page/sync/outlook', () => ({ outlook: phone.told, serverOutlook: phone.told, followJob: () => signal(null) }));
vi.mock('../../../pwa/src/page/shell/now', () => ({ now: phone.now }));

const HOURS = 200;
const later = (name: string, over: Record<string, unknown> = {}): JobView =>
  job(name, { phase: 'next_days', cuts_done: true, loads: [load(name, 1)], ...over });
const seal = (of: string, opens: number, closes: number | null): Reminder =>
  reminder(of, 'seal', { subject: 'coat-1', opens: when(opens, opens, opens), closes: closes === null ? null : when(closes, closes, closes) });

function parted(jobs: readonly JobView[], reminders: readonly Reminder[] = [], looks: Record<string, JobOutlook> = {}, more: Partial<Outlook> = {}) {
  const known = Object.fromEntries(jobs.map((one) => [one.name, looks[one.name] ?? jobOutlook([loadTimeline(one.name)])]));
  const told = { ...outlook(known, reminders), ...more };
  const view = readNow(jobs, told, at(HOURS));
  const { near, rest } = partCards(view.poured, view.lead, told, at(HOURS));
  return { near: near.map((card) => card.job.name), rest: rest.map((card) => card.job.name) };
}

describe('a poured job stands on Now', () => {
  it('while its concrete is young and its hand work open, though no times are known', () => {
    const young = job('Young', { phase: 'pour', loads: [{ ...load('a', 1), batched_at: iso(HOURS - 2) }] });
    const forgotten = job('Forgotten', { phase: 'pour', loads: [load('b', 1)] });
    expect(parted([young, forgotten], [seal('Young', HOURS, HOURS + 90)])).toEqual({ near: ['Young'], rest: ['Forgotten'] });
  });

  it('when something opens or ends within a day, and waits when it does not', () => {
    const jobs = ['Ends', 'Opens', 'Opened', 'Far', 'Long', 'Any'].map((name) => later(name));
    const reminders = [
      seal('Ends', HOURS - 90, HOURS + 23), seal('Opens', HOURS + 23, HOURS + 90), seal('Opened', HOURS - 23, HOURS + 90),
      seal('Far', HOURS + 25, HOURS + 90), seal('Long', HOURS - 90, HOURS + 90), seal('Any', HOURS - 90, null),
    ];
    const { near, rest } = parted(jobs, reminders);
    expect([...near].sort()).toEqual(['Ends', 'Opened', 'Opens']);
    expect([...rest].sort()).toEqual(['Any', 'Far', 'Long']);
  });

  it('when it is what the first line speaks of, whatever its times', () => {
    expect(parted([later('Long'), later('Other')], [seal('Long', HOURS - 90, HOURS + 90)])).toEqual({ near: ['Long'], rest: ['Other'] });
  });

  it('when a load of it may be written twice', () => {
    const twice = [{ ...load('a', 1), author: 'p' }, { ...load('b', 1), author: 'q' }];
    expect(parted([later('Twice', { loads: twice }), later('Once')])).toEqual({ near: ['Twice'], rest: ['Once'] });
  });

  it('when no times are known for it, but not when they only lie with the server', () => {
    const none = { ...jobOutlook([]), timeline: null };
    expect(parted([later('None'), later('Known')], [], { None: none })).toEqual({ near: ['None'], rest: ['Known'] });
    const told = { ...outlook({}), left_out: 1, carried: [] };
    const far = [later('Left out')];
    expect(partCards(readNow(far, told, at(HOURS)).poured, null, told, at(HOURS)).rest).toHaveLength(1);
  });
});

describe('thirty open jobs', () => {
  const jobs = Array.from({ length: 30 }, (_, i) => later(`Job ${i + 1}`));
  let place: HTMLElement;
  const fold = (): HTMLElement => place.querySelector<HTMLElement>('button[aria-expanded]')!;
  const cards = (): number => place.querySelectorAll('article').length;

  beforeEach(() => {
    language.value = 'en';
    restOpen.value = false;
    phone.now.value = at(HOURS);
    phone.jobs.value = jobs;
    phone.told.value = outlook(Object.fromEntries(jobs.map(({ name }) => [name, jobOutlook([loadTimeline(name)])])), [
      seal('Job 7', HOURS - 2, HOURS + 9), seal('Job 9', HOURS - 90, HOURS + 90),
    ]);
    place = document.body.appendChild(document.createElement('div'));
    void act(() => render(<NowScreen />, place));
  });
  afterEach(() => {
    void act(() => render(null, place));
    place.remove();
  });

  it('show the one that is due and a line with the count of the rest, under the first line over all', () => {
    expect(place.querySelector('.now-lead')?.textContent).toContain('Job 7');
    expect(place.querySelector('.now-next')?.textContent).toContain('Job 9');
    expect(cards()).toBe(1);
    expect(fold().textContent).toBe('29 more poured jobs: nothing due within a day');
    expect(fold().getAttribute('aria-expanded')).toBe('false');
  });

  it('say once whose times these are, where they are not the phone’s', () => {
    const elsewhere = vi.spyOn(Date.prototype, 'getTimezoneOffset').mockReturnValue(480);
    restOpen.value = true;
    void act(() => render(null, place));
    void act(() => render(<NowScreen />, place));
    elsewhere.mockRestore();
    expect(cards()).toBe(30);
    expect(place.textContent?.split('Times are the slab’s (Chicago)')).toHaveLength(2);
  });

  it('unfold with one touch, stay so when the screen comes again, and fold with another', () => {
    void act(() => fold().click());
    expect(fold().getAttribute('aria-expanded')).toBe('true');
    expect(cards()).toBe(30);
    void act(() => render(null, place));
    void act(() => render(<NowScreen />, place));
    expect(cards()).toBe(30);
    void act(() => fold().click());
    expect(cards()).toBe(1);
    expect(Object.keys(localStorage).filter((name) => name.includes('rest'))).toEqual([]);
  });

  it('say it in Spanish, and that there are none but those', () => {
    language.value = 'es';
    phone.told.value = outlook(Object.fromEntries(jobs.map(({ name }) => [name, jobOutlook([loadTimeline(name)])])));
    void act(() => render(null, place));
    void act(() => render(<NowScreen />, place));
    expect(cards()).toBe(0);
    expect(fold().textContent).toBe('30 obras coladas: nada en las próximas 24 horas');
  });
});
