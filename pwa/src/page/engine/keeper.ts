// Decides which job is worked out when, one at a time; the newest state of the log is what counts.
import type { Answer, Question } from '../../engine-worker/contract';
import type { JobId } from '../../shared/events';
import type { JobState } from '../../shared/fold';
import type { JobView } from '../../shared/job';
import { learnedOf, type JobOutlook, type Outlook, type Reminder } from '../sync/contract';
import type { WorkedHere } from '../sync/worked';
import { restsOn, waitsForSaw } from './relevant';

export type Seen = {
  readonly jobs: readonly JobView[];
  /** As the server last told it. */
  readonly server: Outlook | null;
  /** As screens go by it. */
  readonly shown: Outlook | null;
  /** What this phone worked out before. */
  readonly worked: Readonly<Record<string, WorkedHere>>;
  readonly company: string;
  readonly unsent: boolean;
  readonly now: Date;
};

export type Deeds = {
  readonly state: (job: JobId) => JobState;
  readonly ask: (question: Question) => Promise<Answer>;
  readonly keep: (job: JobId, found: WorkedHere, open: ReadonlySet<string>) => Promise<void>;
  readonly fail: (error: unknown) => void;
};

/** What the times at hand rest on, from when they are, up to when the server was heard, when to look again though nothing happens. */
type Known = { readonly restsOn: string; readonly at: number; readonly heard: number; readonly again: number };

const minuteMs = 60_000;
const afterFailureMs = 5 * minuteMs;
/** The server looks every hour; a quarter more and it is out of reach. */
const serverIsLateMs = 75 * minuteMs;

export class Keeper {
  private readonly known = new Map<JobId, Known>();
  /** By what each job was last worked out: never twice by the same, whatever the clocks say. */
  private readonly tried = new Map<JobId, Seen>();
  private seen: Seen | null = null;
  private working: Promise<void> | null = null;

  constructor(private readonly deeds: Deeds) {}

  /** Looks at everything; works out what is due. Resolves when nothing is due any more. */
  look(seen: Seen): Promise<void> {
    this.seen = seen;
    this.working ??= Promise.resolve()
      .then(() => this.work())
      .finally(() => {
        this.working = null;
      });
    return this.working;
  }

  private async work(): Promise<void> {
    for (let job = this.firstDue(); job; job = this.firstDue()) await this.workOut(job);
  }

  private firstDue(): JobView | undefined {
    const seen = this.seen;
    if (!seen) return undefined;
    const due = seen.jobs.filter((job) => job.opened && !job.closed && this.tried.get(job.id) !== seen && this.isDue(job, seen));
    return due.find(waitsForSaw) ?? due[0];
  }

  private isDue(job: JobView, seen: Seen): boolean {
    const known = this.known.get(job.id) ?? this.recall(job, seen);
    if (!known || known.restsOn !== restsOn(job)) return true;
    const theirs = seen.server?.jobs[job.id];
    if (theirs && serverTime(theirs) > Math.max(known.at, known.heard)) {
      if (seen.unsent) return true; // its weather may be newer, and it does not know all
      this.known.set(job.id, fromServer(job, theirs));
      return false;
    }
    return seen.now.getTime() >= known.again || hasFallenDue(job, known, seen);
  }

  /** What is at hand when the app opens: this phone's own times, or the server's while it knows all. */
  private recall(job: JobView, { server, worked, unsent }: Seen): Known | undefined {
    const mine = worked[job.id];
    const theirs = server?.jobs[job.id];
    let found: Known | undefined;
    if (mine) found = fromHere(mine, theirs);
    else if (theirs && !unsent) found = fromServer(job, theirs);
    if (found) this.known.set(job.id, found);
    return found;
  }

  private async workOut(job: JobView): Promise<void> {
    const seen = this.seen;
    if (!seen) return;
    this.tried.set(job.id, seen);
    const theirs = seen.server?.jobs[job.id];
    try {
      const answer = await this.deeds.ask(this.question(job, seen));
      const found = asWorked(whole(answer, seen.shown?.jobs[job.id]), seen, restsOn(job));
      this.known.set(job.id, fromHere(found, theirs));
      const open = new Set<string>((this.seen ?? seen).jobs.filter(({ closed }) => !closed).map(({ id }) => id));
      await this.deeds.keep(job.id, found, open);
    } catch (error) {
      const at = seen.now.getTime();
      this.known.set(job.id, { restsOn: restsOn(job), at, heard: serverTime(theirs), again: at + afterFailureMs });
      this.deeds.fail(error);
    }
  }

  private question(job: JobView, { server, shown, company, now }: Seen): Question {
    const theirs = server?.jobs[job.id];
    const { job: id, set, items: all } = this.deeds.state(job.id);
    // No time rests on what was noted in words or in pictures, and there may be thousands.
    const { notes: _notes, photos: _photos, ...items } = all;
    return {
      job: job.id,
      company,
      now: now.toISOString(),
      state: { job: id, set, items }, // plain, as only plain objects reach a worker
      hours: theirs?.weather.hours ?? null,
      told: server?.reminders.filter((reminder) => reminder.job === job.id) ?? [],
      last: last(shown?.jobs[job.id]),
      learned: learnedOf(server, job.id),
    };
  }
}

function fromServer(job: JobView, theirs: JobOutlook): Known {
  const at = serverTime(theirs);
  return { restsOn: restsOn(job), at, heard: at, again: waitsForSaw(job) ? at + serverIsLateMs : Infinity };
}

function fromHere(mine: WorkedHere, theirs: JobOutlook | undefined): Known {
  const at = Date.parse(mine.worked_at);
  return { restsOn: mine.rests_on, at, heard: serverTime(theirs), again: mine.recompute_after ? Date.parse(mine.recompute_after) : Infinity };
}

const serverTime = (theirs: JobOutlook | undefined): number => (theirs ? Date.parse(theirs.computed_at) : 0);

/** A reminder whose time came after the times were worked out: what it says has to be looked at. */
function hasFallenDue(job: JobView, known: Known, { shown, now }: Seen): boolean {
  const waits = (reminder: Reminder): boolean => reminder.job === job.id && reminder.state === 'planned';
  return (shown?.reminders ?? []).some((reminder) => waits(reminder) && isBetween(Date.parse(reminder.due), known.at, now.getTime()));
}

const isBetween = (ms: number, after: number, upTo: number): boolean => after < ms && ms <= upTo;

/** Without the curves, which are most of it: no reminder rests on them. */
function last(shown: JobOutlook | undefined): Question['last'] {
  if (!shown) return null;
  const { timeline, planned, computed_at } = shown;
  const loads = timeline?.loads.map(({ curve: _curve, ...load }) => load);
  return { timeline: timeline && { ...timeline, loads }, planned: planned ?? false, computed_at };
}

/** Where the last times had to stay they come back as they were sent; those on the screen have their curves. */
function whole(answer: Answer, shown: JobOutlook | undefined): Answer {
  const stayed = shown?.timeline && answer.timeline && answer.problem && answer.computed_at === shown.computed_at;
  return stayed ? { ...answer, timeline: shown.timeline } : answer;
}

function asWorked(answer: Answer, { now, company }: Seen, rests_on: string): WorkedHere {
  const { job: _, ...found } = answer;
  return { ...found, worked_here: true, company, worked_at: now.toISOString(), rests_on } as WorkedHere;
}
