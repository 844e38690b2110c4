// Which jobs' entries this phone holds. All of them in a small company; of one with many jobs those that are near, those
// opened here lately and those with work of its own, and the others when somebody opens them. See docs/sync.md.
import type { Event } from '../../../shared/event';
import type { JobId } from '../../../shared/events';
import { beginToCarry, letGo, readHere, takeOn, type Here, type Taken, type Whole } from '../../../shared/store/carry';
import type { Steady } from '../../../shared/store/steady';
import { CallFailed } from '../call';
import type { Outlook } from '../contract';
import { readPage, type Page } from './page-of';

/** Up to so many jobs, closed ones too, every phone holds all. */
export const MOST_WHOLE = 60;
const DAY_MS = 86_400_000;
/** So long what this phone wrote stays on it, for a server put back from a backup asks for it. */
export const OWN_STAYS_MS = 30 * DAY_MS;
/** A job that had to stay is not looked at again before. */
const LOOK_AGAIN_MS = 3_600_000;
const GROUP = 25;
/** So many groups in one round: an upgraded phone lets go of thousands, and must sync between. */
const MOST_GROUPS = 8;
/** Reading a very long log's index on a slow phone. */
const PATIENCE_MS = 60_000;
const AT_ONCE = 4;
const MOST_AT_ONCE = 500;
const LEAST_AT_ONCE = 20;
/** The log of a busy company goes on while a job is fetched; each turn asks for what came since. */
const MOST_TURNS = 20;

const jobId = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;

/** What became of asking for a job. `all`: this phone holds every job there is. */
export type Brought = Taken | 'all';

export type Ways = {
  /** Asks the server for JSON. Throws CallFailed. */
  readonly ask: (path: string) => Promise<unknown>;
  /** These jobs came to the database, whole, or left it. */
  readonly moved: (jobs: readonly JobId[], arrived: readonly Event[]) => Promise<void>;
  /** The jobs this page shows. */
  readonly shown: () => ReadonlySet<JobId>;
  /** From now on not all jobs are held, and none but those in the database. */
  readonly began: () => Promise<void>;
  /** Work waits to be sent: the rest of the jobs can come after it. */
  readonly isPressing: () => boolean;
};

export class Carrier {
  private readonly under = new Map<JobId, Promise<Brought>>();
  private readonly stays = new Map<JobId, number>();
  private readonly unknown = new Map<JobId, number>();
  /** Some have no name: they are on the disk and can't be shown. */
  private readonly retold = new Set<JobId>();
  private size = MOST_AT_ONCE;

  constructor(private readonly steady: Steady, private readonly ways: Ways, private readonly mostWhole = MOST_WHOLE) {}

  /**
   * Before a phone reads a log from its beginning: whether to hold all of it. False when the server could not be asked;
   * nothing should be read then.
   */
  async begin(): Promise<boolean> {
    if (!(await this.steady.run(startsAnew, PATIENCE_MS))) return true;
    try {
      if ((await this.countJobs()) > this.mostWhole && (await this.steady.run(beginToCarry))) await this.ways.began();
      return true;
    } catch (error) {
      if (!(error instanceof CallFailed)) throw error;
      return error.status !== 0; // a server that has no such list, or is in trouble, is asked for all as ever
    }
  }

  /** After a sync: takes on what the server finds near and what is worked on here, lets go of what is neither. */
  async carryOn(told: Outlook): Promise<void> {
    const here = await this.readHere(told);
    if (!here) return;
    await this.showAsIs(here);
    const wanted = new Set([...here.lately, ...here.busy, ...(told.carried ?? [])].filter((job): job is JobId => jobId.test(job)));
    const stay = await this.letGo(here, wanted, Date.parse(told.server_time));
    const held = new Set(here.carry?.held);
    const nowMs = Date.parse(told.server_time);
    const isUnknown = (job: JobId): boolean => (this.unknown.get(job) ?? 0) > nowMs && !told.carried?.includes(job);
    await this.takeOnAll([...wanted, ...stay].filter((job) => !held.has(job) && !isUnknown(job)), nowMs);
  }

  /** Brings a job to this phone. `onCount` hears how many entries have come. Throws CallFailed. */
  async bring(job: JobId, onCount: (entries: number) => void = () => undefined): Promise<Brought> {
    const known = this.under.get(job);
    if (known) return known;
    const bringing = this.bringOnce(job, onCount).finally(() => this.under.delete(job));
    this.under.set(job, bringing);
    return bringing;
  }

  /** Whether a job that is not here could be brought, without asking anybody. */
  async look(job: JobId): Promise<'all' | 'held' | 'apart'> {
    const here = await this.steady.run(readHere);
    if (!here?.carry) return 'all';
    return here.carry.held.includes(job) ? 'held' : 'apart';
  }

  /** Null while nothing is to be changed: nobody joined, another server told, or the company is small. */
  private async readHere(told: Outlook): Promise<Here | null> {
    const here = await this.steady.run(readHere, PATIENCE_MS);
    if (!here || !told.carried || told.epoch !== here.epoch || told.me.device !== here.device) return null;
    if (here.carry) return here;
    if (here.present.length <= this.mostWhole) return null;
    await this.steady.run(beginToCarry, PATIENCE_MS);
    return this.steady.run(readHere, PATIENCE_MS);
  }

  /** A page that was killed, or could not read, after a job came or went: then it shows otherwise than the database is. */
  private async showAsIs({ carry, present }: Here): Promise<void> {
    const shown = this.ways.shown();
    const there = new Set(present);
    const missing = present.filter((job) => carry?.held.includes(job) && !shown.has(job) && !this.retold.has(job));
    for (const job of missing) this.retold.add(job);
    const apart = [...missing, ...[...shown].filter((job) => !there.has(job))];
    if (apart.length > 0) await this.ways.moved(apart, []);
  }

  private async countJobs(): Promise<number> {
    const found = await this.ways.ask('/api/jobs?limit=1');
    const total = typeof found === 'object' && found !== null && 'total' in found ? found.total : 0;
    return typeof total === 'number' ? total : 0;
  }

  /** Lets go of what nobody wants. Returns what has to stay all the same and is not held. */
  private async letGo(here: Here, wanted: ReadonlySet<JobId>, nowMs: number): Promise<JobId[]> {
    const held = new Set(here.carry?.held);
    const all = [...new Set([...here.present, ...held])] as JobId[];
    const spare = all.filter((job) => !wanted.has(job) && !((this.stays.get(job) ?? 0) > nowMs));
    const most = GROUP * (here.restored ? 1 : MOST_GROUPS);
    for (let from = 0; from < Math.min(most, spare.length); from += GROUP) {
      const group = spare.slice(from, from + GROUP);
      const seen = here.restored ? await this.see(group) : null;
      const gone = await this.steady.run((db) => letGo(db, group, { ownSinceMs: nowMs - OWN_STAYS_MS, seen }));
      const left = new Set(gone);
      for (const job of group) {
        if (left.has(job)) this.stays.delete(job);
        else this.stays.set(job, nowMs + LOOK_AGAIN_MS);
      }
      if (gone.length > 0) await this.ways.moved(gone, []);
    }
    return all.filter((job) => !wanted.has(job) && this.stays.has(job) && !held.has(job));
  }

  /** The ids the server has of these jobs now; none of a job that could not be asked for, which so stays. */
  private async see(jobs: readonly JobId[]): Promise<ReadonlyMap<string, ReadonlySet<string>>> {
    const seen = new Map<string, ReadonlySet<string>>();
    for (const job of jobs) {
      try {
        seen.set(job, new Set((await this.wholeOf(job, 0, () => undefined)).events.map(({ id }) => id)));
      } catch (error) {
        if (!(error instanceof CallFailed)) throw error;
        if (error.status < 500) break;
      }
    }
    return seen;
  }

  /** A few at a time. One in which the server fails does not hold up the others; a lost line, a refusal and unsent work do. */
  private async takeOnAll(jobs: readonly JobId[], nowMs: number): Promise<void> {
    const left = [...jobs];
    let failed: unknown = null;
    const pressed = this.ways.isPressing(); // what could not go before this will not go after it
    const work = async (): Promise<void> => {
      for (let job = left.shift(); job !== undefined && (pressed || !this.ways.isPressing()); job = left.shift()) {
        try {
          if ((await this.bring(job)) === 'unknown') this.unknown.set(job, nowMs + LOOK_AGAIN_MS);
        } catch (error) {
          failed ??= error;
          if (!(error instanceof CallFailed) || error.status < 500) left.length = 0;
        }
      }
    };
    await Promise.all(Array.from({ length: AT_ONCE }, work));
    if (failed !== null) throw failed instanceof Error ? failed : new Error('a job could not be brought', { cause: failed });
  }

  private async bringOnce(job: JobId, onCount: (entries: number) => void): Promise<Brought> {
    const here = await this.steady.run(readHere);
    if (!here?.carry) return 'all';
    if (!jobId.test(job)) return 'unknown';
    if (here.carry.held.includes(job)) {
      if (!this.ways.shown().has(job)) await this.ways.moved([job], []);
      return 'held';
    }
    const events: Event[] = [];
    let after = 0;
    for (let turn = 0; turn < MOST_TURNS; turn += 1) {
      const page = await this.wholeOf(job, after, (more) => onCount(events.length + more));
      events.push(...page.events);
      after = page.cursor;
      const whole: Whole = { device: here.device, epoch: page.epoch, upTo: after, events };
      const taken = page.epoch === here.epoch ? await this.steady.run((db) => takeOn(db, job, whole)) : 'apart';
      if (taken === 'held') await this.ways.moved([job], events);
      if (taken !== 'behind') return taken;
    }
    return 'behind';
  }

  /** A job's entries after a number, all pages; of one epoch. */
  private async wholeOf(job: JobId, after: number, onCount: (entries: number) => void): Promise<Page> {
    const events: Event[] = [];
    let page: Page = { events: [], cursor: after, more: true, epoch: '' };
    while (page.more) {
      const next = await this.pageOf(job, page.cursor);
      if (page.epoch !== '' && next.epoch !== page.epoch) throw strange();
      events.push(...next.events);
      onCount(events.length);
      page = next;
    }
    return { ...page, events };
  }

  /** Asks for less after an answer that did not come whole. */
  private async pageOf(job: JobId, after: number): Promise<Page> {
    for (;;) {
      try {
        const page = readPage(await this.ways.ask(`/api/jobs/${job}/events?after=${after}&limit=${this.size}`), job, after);
        if (!page) throw strange();
        this.size = Math.min(MOST_AT_ONCE, this.size * 2);
        return page;
      } catch (error) {
        const cut = error instanceof CallFailed && (error.status === 0 || error.status === 200);
        if (!cut || this.size <= LEAST_AT_ONCE) throw error;
        this.size = Math.max(LEAST_AT_ONCE, Math.floor(this.size / 2));
      }
    }
  }
}

/** Not what the server says. */
const strange = (): CallFailed => new CallFailed({ code: 'portal', message: 'portal', do: '' }, 200);

async function startsAnew(db: Parameters<typeof readHere>[0]): Promise<boolean> {
  const here = await readHere(db);
  if (!here || here.carry) return false;
  return ((await db.get('meta', 'cursor'))?.value ?? 0) === 0;
}
