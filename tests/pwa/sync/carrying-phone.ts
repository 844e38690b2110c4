// A phone of a company of many jobs in a test: tabs over one database, each with its own log, sync and carrier.
import 'fake-indexeddb/auto';
import { Book } from '../../../pwa/src/page/log/book';
import { CallFailed } from '../../../pwa/src/page/sync/call';
import { Carrier, type Brought } from '../../../pwa/src/page/sync/carry/carrier';
import type { Outlook } from '../../../pwa/src/page/sync/contract';
import { Pace } from '../../../pwa/src/page/sync/pace';
import { SyncRun } from '../../../pwa/src/page/sync/run';
import type { Event } from '../../../pwa/src/shared/event';
import type { JobId } from '../../../pwa/src/shared/events';
import { write, type FieldDatabase } from '../../../pwa/src/shared/store/database';
import { takeSession } from '../../../pwa/src/shared/store/membership';
import { getMeta, putMeta, readMeta, writeMeta, type Carry, type Session } from '../../../pwa/src/shared/store/meta';
import type { Fetch } from '../../../pwa/src/shared/store/offer';
import { Steady } from '../../../pwa/src/shared/store/steady';
import { acknowledge } from '../../../pwa/src/sw/acknowledge';
import { Tabs, uuid } from './phone';
import type { ServerModel } from './server-model';

/** Small companies in these tests have up to so many jobs. */
export const WHOLE = 3;

/** The app was killed. */
export class Killed extends Error {
  override readonly name = 'Killed';
}

let made = 0x1000;

class Tab {
  readonly book: Book;
  readonly run: SyncRun;
  readonly carrier: Carrier;

  constructor(steady: Steady, tabs: Tabs, private readonly fetcher: Fetch, token: () => string, rawNow: () => number, moved: () => void) {
    this.book = new Book(steady, tabs.open(), rawNow);
    this.run = new SyncRun(steady, fetcher, {
      settled: (settled) => this.book.settled(settled),
      putRight: (events) => this.book.putRight(events),
      offset: (offsetMs) => this.book.setOffset(offsetMs),
    }, rawNow, 1_000, new Pace(5));
    this.carrier = new Carrier(steady, {
      ask: (path) => ask(this.fetcher, path, token()),
      moved: async (jobs, arrived) => {
        moved();
        await this.book.moved(jobs, arrived);
      },
      shown: () => new Set(this.book.jobs.value.map(({ id }) => id)),
      began: () => this.book.open(),
      isPressing: () => false,
    }, WHOLE);
  }
}

async function ask(fetcher: Fetch, path: string, token: string): Promise<unknown> {
  const failed = (status: number): CallFailed => new CallFailed({ code: 'portal', message: 'portal', do: '' }, status);
  let response: Response;
  try {
    response = await fetcher(path, { headers: { Authorization: `Bearer ${token}` } });
  } catch (error) {
    if (error instanceof Killed) throw error;
    throw failed(0);
  }
  if (!response.ok) throw failed(response.status);
  try {
    return (await response.json()) as unknown;
  } catch {
    throw failed(200);
  }
}

export class CarryingPhone {
  device = '';
  readonly steady: Steady;
  private tabs: readonly Tab[];
  private token = '';
  /** Kills the app right after the next change of what is held, before the page hears of it. */
  killAfterMove = false;
  lead = 0;

  constructor(private readonly server: ServerModel, private readonly fetcher: Fetch, readonly rawNow: () => number) {
    made += 1;
    this.steady = new Steady(`carrying-${made}`);
    this.tabs = this.openTabs();
  }

  private openTabs(): readonly Tab[] {
    const channel = new Tabs();
    const moved = (): void => {
      if (!this.killAfterMove) return;
      this.killAfterMove = false;
      throw new Killed('killed');
    };
    return [0, 1].map(() => new Tab(this.steady, channel, this.fetcher, () => this.token, this.rawNow, moved));
  }

  get tab(): Tab {
    return this.tabs[this.lead] as Tab;
  }

  get book(): Book {
    return this.tab.book;
  }

  private session(): Session {
    return { token: this.token, device: this.device, person: uuid(0xfff), name: 'Ana', role: 'foreman', company: { id: 'company-1', name: 'Slab crew' } };
  }

  async join(): Promise<void> {
    made += 1;
    this.device = uuid(made);
    this.token = this.server.enrol(this.device);
    await this.disk((db) => takeSession(db, this.session(), this.server.epoch, new Date(this.rawNow()).toISOString()));
    for (const tab of this.tabs) await tab.book.open();
  }

  disk<T>(work: (db: FieldDatabase) => Promise<T>): Promise<T> {
    return this.steady.run(work);
  }

  /** All that a kill leaves is the disk. */
  async restart(): Promise<void> {
    this.steady.close();
    this.killAfterMove = false;
    this.tabs = this.openTabs();
    for (const tab of this.tabs) await tab.book.open();
  }

  /** What the app does each round: see work() in sync.ts. */
  async sync(rounds = 20): Promise<boolean> {
    const { carrier, run, book } = this.tab;
    try {
      if (!(await carrier.begin()) && book.unsent.value.count === 0) return false;
      if ((await run.drain(rounds)) !== 'done') return false;
      const lately = (await this.disk((db) => readMeta(db, 'lately'))) ?? [];
      await carrier.carryOn((await ask(this.fetcher, `/api/outlook?near=1&keep=${lately.join(',')}`, this.token)) as Outlook);
      return true;
    } catch (error) {
      if (error instanceof Killed) await this.restart();
      else if (!(error instanceof CallFailed)) throw error;
      return false;
    }
  }

  async open(job: JobId): Promise<Brought | 'failed'> {
    await this.disk((db) => write(db, ['meta'], async (tx) => {
      const before = (await getMeta(tx.objectStore('meta'), 'lately')) ?? [];
      await putMeta(tx.objectStore('meta'), 'lately', [job, ...before.filter((one) => one !== job)].slice(0, 2));
    }));
    try {
      return await this.tab.carrier.bring(job);
    } catch (error) {
      if (error instanceof Killed) await this.restart();
      else if (!(error instanceof CallFailed)) throw error;
      return 'failed';
    }
  }

  async acknowledge(job: JobId, channel = new Tabs().open()): Promise<void> {
    await acknowledge(this.steady, this.fetcher, channel, uuid(made), job, this.rawNow());
    for (const tab of this.tabs) await tab.book.open();
  }

  /** The browser takes the database away under the open page; the page writes again what it must not lose. */
  async evict(): Promise<void> {
    const { book } = this.tab;
    await this.disk(async (db) => {
      const names = [...db.objectStoreNames];
      await write(db, names, async (tx) => void (await Promise.all(names.map((name) => tx.objectStore(name).clear()))));
      await writeMeta(db, 'session', this.session());
      await writeMeta(db, 'company', 'company-1');
      await writeMeta(db, 'offsetMs', 0);
      await book.refill(db);
    });
    await this.restart();
  }

  carry(): Promise<Carry | undefined> {
    return this.disk((db) => readMeta(db, 'carry'));
  }

  async held(): Promise<readonly string[]> {
    return [...((await this.carry())?.held ?? [])].sort();
  }

  events(): Promise<Event[]> {
    return this.disk((db) => db.getAll('events'));
  }
}
