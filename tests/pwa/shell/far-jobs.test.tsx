// @vitest-environment happy-dom
// What the screens of jobs that are not on this phone say, in each state.
import 'fake-indexeddb/auto';
import { render, type VNode } from 'preact';
import { act } from 'preact/test-utils';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import type { JobId } from '../../../pwa/src/shared/events';
import { takeSession } from '../../../pwa/src/shared/store/membership';
import { readMeta, writeMeta } from '../../../pwa/src/shared/store/meta';
import { jobs } from '../../../pwa/src/page/log/journal';
import { storage } from '../../../pwa/src/page/log/storage';
import { BringJob, OtherJobs } from '../../../pwa/src/page/shell/far';
import { watchOnline } from '../../../pwa/src/page/shell/online';
import { language } from '../../../pwa/src/page/shell/preferences';
import { uuid } from '../sync/phone';

const job = uuid(0x777) as JobId;
const session = { token: 't', device: uuid(1), person: uuid(2), name: 'Ana', role: 'foreman' as const, company: { id: 'c', name: 'Company' } };
const opened = { id: uuid(3), job, kind: 'job.opened', body: { name: 'Mill steps', use: 'walk' }, at: '2026-07-14T13:00:00.000Z', clock: `001784034000710-0000-${uuid(9)}`, device: uuid(9), author: uuid(8), raw_at: null, seq: 1 };
const page = { events: [opened], cursor: 4, more: false, epoch: 'e' };
let place: HTMLElement;
let asked: string[] = [];
let reply: (path: string) => unknown = () => page;

const show = async (what: VNode): Promise<void> => act(() => render(what, place));
const said = (words: string): Promise<void> => vi.waitFor(() => expect(place.textContent).toContain(words), 5_000);
const line = (there: boolean): void => void dispatchEvent(new Event(there ? 'online' : 'offline'));
const press = async (words: string): Promise<void> => act(() => [...place.querySelectorAll('button')].find((one) => one.textContent === words)?.click());

watchOnline();
beforeEach(async () => {
  language.value = 'en';
  asked = [];
  reply = () => page;
  place = document.body.appendChild(document.createElement('div'));
  vi.stubGlobal('fetch', async (path: string) => {
    asked.push(path);
    const body = reply(path);
    if (body === null) throw new TypeError('no line');
    return new Response(JSON.stringify(body), { status: 200, headers: { 'Content-Type': 'application/json' } });
  });
  await storage.run((db) => takeSession(db, session, 'e', 'now'));
  await storage.run((db) => writeMeta(db, 'carry', { held: [], cursor: 4 }));
  line(true);
});
afterEach(() => {
  render(null, place);
  place.remove();
  vi.unstubAllGlobals();
});

test('a job that is not here says so without signal, and is asked for when there is some', async () => {
  line(false);
  await show(<BringJob id={job} />);
  await said('It comes when there is signal.');
  expect(asked).toEqual([]);
  await act(() => line(true));
  await vi.waitFor(async () => expect((await storage.run((db) => readMeta(db, 'carry')))?.held).toEqual([job]));
  await vi.waitFor(() => expect(jobs.value.map(({ name }) => name)).toEqual(['Mill steps']));
});

test('a fetching that fails says why, and is tried again at a touch', async () => {
  const other = uuid(0x778) as JobId;
  reply = () => null;
  await show(<BringJob id={other} />);
  await said('Try again');
  expect(place.querySelector('[role=alert]')?.textContent).toContain('This job is not on this phone');
  reply = () => ({ ...page, events: [] });
  await press('Try again');
  await said('The server does not know this job');
  expect((await storage.run((db) => readMeta(db, 'carry')))?.held).toEqual([]);
});

test('on a phone that holds everything an unknown job is as it was, and nothing is asked', async () => {
  await storage.run((db) => db.delete('meta', 'carry'));
  await show(<div><BringJob id={job} /><OtherJobs /></div>);
  await said('This phone does not have this job');
  expect([asked, place.textContent?.includes('All jobs of the company')]).toEqual([[], false]);
});

test('the list of the others comes from the server, says when nothing fits, and when it did not come', async () => {
  const listed = [{ job: uuid(0x800), name: 'Ferry deck', place: '2 Mill Row', phase: 'layout', open: true, pour_at: null }];
  reply = (path) => (path.includes('search=nowhere') ? { jobs: [], total: 0 } : { jobs: listed, total: 41 });
  await show(<OtherJobs />);
  await said('Ferry deck');
  expect(place.querySelector('a')?.getAttribute('href')).toBe(`#/job/${uuid(0x800)}/layout`);
  await press('Show more');
  await vi.waitFor(() => expect(asked.at(-1)).toContain('skip=20'));
  const field = place.querySelector('input') as HTMLInputElement;
  const type = (text: string) => act(() => {
    field.value = text;
    field.dispatchEvent(new Event('input', { bubbles: true }));
  });
  await type('nowhere');
  await said('No job fits.');
  reply = () => null;
  await type('mill');
  await said('The list did not come');
  await act(() => line(false));
  await said('No signal: only the jobs above are here now.');
});
