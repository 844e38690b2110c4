import 'fake-indexeddb/auto';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { readMeta, writeMeta } from '../../../pwa/src/shared/store/meta';
import { takeSession } from '../../../pwa/src/shared/store/membership';
import { storage } from '../../../pwa/src/page/log/storage';
import type { Outlook, Reminder } from '../../../pwa/src/page/sync/contract';
import { isFar } from '../../../pwa/src/page/sync/far';
import { lately, MOST_LATELY, noteOpened, withOne } from '../../../pwa/src/page/sync/near';
import { followJob, openOutlook, refreshOutlook, serverOutlook } from '../../../pwa/src/page/sync/outlook';
import { iso, job as jobOf, jobOutlook, loadTimeline, outlook, reminder } from '../look/sample';

const id = (n: number): string => `00000000-0000-4000-8000-${String(n).padStart(12, '0')}`;
const job = (n: number) => jobOf(id(n));
const look = jobOutlook([loadTimeline('a')]);
const session = {
  token: 'secret', device: id(900), person: id(901), name: 'Ana', role: 'foreman' as const, company: { id: 'c', name: 'Company' },
};

/** A server with many jobs: 1 and 2 are near, the others it tells of on request; 404 beyond 50. */
class Server {
  asked: string[] = [];
  reachable = true;
  at = 3;
  looked = true;
  /** Answers late: the test lets go. */
  hold: Promise<void> | null = null;

  readonly answer = async (path: string, init?: RequestInit): Promise<Response> => {
    this.asked.push(path);
    if (!this.reachable) throw new TypeError('no line');
    const url = new URL(path, 'http://here');
    const one = /^\/api\/jobs\/(.+)\/outlook$/.exec(url.pathname)?.[1];
    if (one) return this.one(one);
    await this.hold;
    const carried = [...new Set([id(1), id(2), ...(url.searchParams.get('keep')?.split(',') ?? [])])];
    const tag = `"${this.at} ${carried.join(' ')}"`;
    if (new Headers(init?.headers).get('If-None-Match') === tag) return new Response(null, { status: 304 });
    return json(this.told(carried), tag);
  };

  told(carried: readonly string[]): Outlook {
    const reminders = carried.map((of) => reminder(of, 'saw'));
    return { ...outlook(Object.fromEntries(carried.map((of) => [of, look])), reminders), server_time: iso(this.at), carried, left_out: 4998 };
  }

  private one(of: string): Response {
    if (of > id(50)) return json({ error: { code: 'job_unknown', message: 'No.', do: '' } }, '', 404);
    return json({ outlook: this.looked ? look : null, reminders: this.looked ? [reminder(of, 'saw')] : [] }, '');
  }
}

const json = (body: unknown, tag: string, status = 200): Response =>
  new Response(JSON.stringify(body), { status, headers: { 'Content-Type': 'application/json', ETag: tag } });
const here = (n: number): boolean => serverOutlook.peek()?.jobs[id(n)] !== undefined;
const remindersOf = (n: number): readonly Reminder[] => (serverOutlook.peek()?.reminders ?? []).filter((one) => one.job === id(n));

let server: Server;
let stops: (() => void)[] = [];
const open = (n: number): void => void stops.push(followJob(job(n)));
const noted = (n: number): Promise<void> => vi.waitFor(async () => expect((await lately())[0]).toBe(id(n)));
const line = (there: boolean): void => {
  server.reachable = there;
  vi.spyOn(navigator, 'onLine', 'get').mockReturnValue(there);
};

beforeEach(async () => {
  server = new Server();
  vi.stubGlobal('navigator', { get onLine() { return true; } });
  vi.stubGlobal('fetch', server.answer);
  await storage.run((db) => takeSession(db, session, 'e', iso(0)));
  await openOutlook();
});
afterEach(() => {
  for (const stop of stops) stop();
  stops = [];
  vi.unstubAllGlobals();
});

describe('the outlook a phone asks for', () => {
  test('is of the near jobs, and of those opened lately, the last first and no more than twenty', async () => {
    await refreshOutlook();
    expect(server.asked).toEqual(['/api/outlook?near=1']);
    for (let n = 1; n <= MOST_LATELY + 2; n += 1) await noteOpened(id(n));
    await noteOpened(id(9));
    await refreshOutlook();
    const kept = new URL(server.asked[1] ?? '', 'http://here').searchParams.get('keep')?.split(',') ?? [];
    expect(kept).toHaveLength(MOST_LATELY);
    expect(kept.slice(0, 3)).toEqual([id(9), id(22), id(21)]);
    expect(new Set(kept).size).toBe(MOST_LATELY);
    expect(kept).not.toContain(id(2));
  });

  test('names no job that is none: the server would refuse it whole', async () => {
    await noteOpened('lost,1');
    await refreshOutlook();
    expect(server.asked).toEqual(['/api/outlook?near=1']);
  });

  test('is not that of the person who had the phone before', async () => {
    await noteOpened(id(7));
    await storage.run((db) => takeSession(db, { ...session, person: id(902) }, 'e', iso(0)));
    expect(await lately()).toEqual([]);
  });

  test('is unchanged while nothing is', async () => {
    await refreshOutlook();
    const before = serverOutlook.peek();
    await refreshOutlook();
    expect(serverOutlook.peek()).toBe(before);
  });
});

describe('a job that is not carried', () => {
  test('gets its own times and reminders when it is opened, and has them without signal afterwards', async () => {
    await refreshOutlook();
    expect(isFar(serverOutlook.peek(), job(7))).toBe(true);
    open(7);
    await vi.waitFor(() => expect(here(7)).toBe(true));
    expect(server.asked).toEqual(['/api/outlook?near=1', `/api/jobs/${id(7)}/outlook`]);
    expect(remindersOf(7)).toHaveLength(1);
    expect([here(1), here(2), remindersOf(1).length]).toEqual([true, true, 1]);
    expect(isFar(serverOutlook.peek(), job(7))).toBe(false);
    line(false);
    await openOutlook(); // a start without signal
    expect([here(7), remindersOf(7).length]).toEqual([true, 1]);
  });

  test('goes on being told with the others', async () => {
    await refreshOutlook();
    open(7);
    await vi.waitFor(() => expect(here(7)).toBe(true));
    server.at = 4;
    await refreshOutlook();
    expect(server.asked.at(-1)).toBe(`/api/outlook?near=1&keep=${id(7)}`);
    expect([here(7), remindersOf(7).length, server.asked.filter((path) => path.includes('/jobs/')).length]).toEqual([true, 1, 1]);
  });

  test('is not lost to an answer that was under way when it was opened', async () => {
    await refreshOutlook();
    let go: () => void = () => undefined;
    server.hold = new Promise((resolve) => { go = resolve; });
    server.at = 4;
    const asking = refreshOutlook();
    await vi.waitFor(() => expect(server.asked).toHaveLength(2));
    open(7);
    await vi.waitFor(() => expect(here(7)).toBe(true));
    go();
    await asking;
    expect([serverOutlook.peek()?.server_time, here(7), remindersOf(7).length]).toEqual([iso(4), true, 1]);
  });

  test('opened without signal asks for nothing, is said to be far, and comes with the next signal', async () => {
    await refreshOutlook();
    line(false);
    open(7);
    await noted(7);
    await expect(refreshOutlook()).rejects.toThrow('no_answer');
    expect(server.asked.filter((path) => path.includes('/jobs/'))).toEqual([]);
    expect(isFar(serverOutlook.peek(), job(7))).toBe(true);
    line(true);
    await refreshOutlook();
    expect([here(7), isFar(serverOutlook.peek(), job(7))]).toEqual([true, false]);
  });

  test('is asked for once the first outlook is here, when the phone starts with it', async () => {
    await storage.run((db) => writeMeta(db, 'lately', []));
    const early = followJob(job(7));
    stops.push(early);
    await noted(7);
    expect(server.asked).toEqual([]);
    await refreshOutlook();
    expect(here(7)).toBe(true);
  });

  test('that nobody has looked at yet is not called far once the server has said so', async () => {
    server.looked = false;
    await refreshOutlook();
    open(7);
    await vi.waitFor(() => expect(serverOutlook.peek()?.carried).toContain(id(7)));
    expect([here(7), isFar(serverOutlook.peek(), job(7))]).toEqual([false, false]);
  });

  test('that the server does not know stays as it is, and is not asked for again and again', async () => {
    await refreshOutlook();
    open(99);
    await vi.waitFor(() => expect(server.asked.at(-1)).toBe(`/api/jobs/${id(99)}/outlook`));
    await new Promise((resolve) => setTimeout(resolve, 50));
    expect(server.asked).toHaveLength(2);
    expect(here(99)).toBe(false);
  });

  test('begun after the server told is neither far nor asked for', async () => {
    await refreshOutlook();
    const begun = jobOf(id(8), { opened: { ...job(8).opened, at: iso(5) } });
    stops.push(followJob(begun));
    await noted(8);
    expect([isFar(serverOutlook.peek(), begun), server.asked.length]).toEqual([false, 1]);
  });
});

test('a job of an older server, or of a small company, is never far', () => {
  const { carried: _carried, left_out: _left, ...old } = server.told([id(1)]);
  expect([isFar(old, job(7)), isFar({ ...server.told([id(1)]), left_out: 0 }, job(7)), isFar(null, job(7))]).toEqual([false, false, false]);
});

test('what is put to the outlook takes the place of what it told of that job before', () => {
  const twice = withOne(withOne(server.told([id(1)]), id(7), { outlook: look, reminders: [reminder(id(7), 'saw')] }), id(7), { outlook: look, reminders: [] });
  expect([twice.carried, twice.reminders.map((one) => one.job)]).toEqual([[id(1), id(7)], [id(1)]]);
});

test('the kept outlook is what the phone reads at its next start', async () => {
  await refreshOutlook();
  const kept = await storage.run((db) => readMeta(db, 'outlook'));
  expect(kept?.value).toEqual(serverOutlook.peek());
});
