// Times this phone worked out by itself, kept beside the server's; the newer of the two is the one to go by.
import { signal, type ReadonlySignal } from '@preact/signals';
import { readMeta, writeMeta } from '../../shared/store/meta';
import { channel } from '../log/journal';
import { storage } from '../log/storage';
import type { IsoTime, JobOutlook, Outlook, Reminder } from './contract';
import { isLeftOut } from './far';

export type WorkedHere = JobOutlook & {
  readonly worked_here: true;
  /** Whose job it is; another company's is nobody's business here. */
  readonly company: string;
  /** When it was worked out; `computed_at` is older where the last good times had to stay. */
  readonly worked_at: IsoTime;
  readonly recompute_after: IsoTime | null;
  readonly reminders: readonly Reminder[];
  /** What of the log it rests on, to tell when that changed. */
  readonly rests_on: string;
};
type ByJob = Readonly<Record<string, WorkedHere>>;

/** Unsent work makes the phone know better, but not for ever: past this the server's newer weather counts more. */
const betterForMs = 10 * 60_000;

const current = signal<ByJob>({});
export const worked: ReadonlySignal<ByJob> = current;

/** Reads what was kept, and again when another tab has worked something out. */
export async function openWorked(): Promise<void> {
  channel.listen((message) => {
    if (message.type === 'worked' || message.type === 'session') void readWorked();
  });
  await readWorked();
}

async function readWorked(): Promise<void> {
  current.value = ((await storage.run((db) => readMeta(db, 'worked'))) as ByJob | undefined) ?? {};
}

/** Keeps an answer, and lets go of those for jobs that are not open any more. */
export async function keepWorked(job: string, found: WorkedHere, open: ReadonlySet<string>): Promise<void> {
  const others = Object.entries(current.peek()).filter(([id]) => open.has(id));
  current.value = { ...Object.fromEntries(others), [job]: found };
  const value = current.peek();
  await storage.run((db) => writeMeta(db, 'worked', value));
  channel.post({ type: 'worked' });
}

/** Whether the phone's own times are the ones to go by. */
export function isBetter(mine: WorkedHere, theirs: JobOutlook | undefined, unsent: boolean): boolean {
  if (!theirs) return true;
  const later = Date.parse(mine.worked_at) - Date.parse(theirs.computed_at);
  return later > 0 || (unsent && later > -betterForMs);
}

/** Of a job the server no longer tells this phone of, times older than its word are nobody's: nothing here keeps them right. */
export function isOutdated(outlook: Outlook, job: string, mine: WorkedHere): boolean {
  return isLeftOut(outlook, job) && Date.parse(mine.worked_at) <= Date.parse(outlook.server_time);
}

/** The server's outlook, with the phone's own times and reminders where they are the better ones. */
export function withWorked(outlook: Outlook | null, byJob: ByJob, unsent: boolean): Outlook | null {
  if (!outlook) return null;
  const own = Object.entries(byJob).filter(([, { company }]) => company === outlook.company.id);
  const better = own.filter(([job, mine]) => isBetter(mine, outlook.jobs[job], unsent) && !isOutdated(outlook, job, mine));
  if (better.length === 0) return outlook;
  const mine = new Set(better.map(([job]) => job));
  const reminders = outlook.reminders.filter(({ job }) => !mine.has(job));
  return {
    ...outlook,
    jobs: { ...outlook.jobs, ...Object.fromEntries(better) },
    reminders: [...reminders, ...better.flatMap(([, found]) => found.reminders)],
  };
}
