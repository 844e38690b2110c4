import type { JobView } from '../../shared/job';
import type { JobOutlook, Outlook, Reminder } from '../sync/contract';
import { byUrgency, isDone, tasksOf, type Task } from './tasks';

export interface JobCard {
  readonly job: JobView;
  readonly look: JobOutlook | null;
  /** Most urgent first. */
  readonly tasks: readonly Task[];
}

export interface NowView {
  /** The single first thing. */
  readonly lead: Task | null;
  /** What follows, over all jobs. */
  readonly next: readonly Task[];
  /** Jobs with concrete on the ground, the most urgent first. */
  readonly poured: readonly JobCard[];
  /** Jobs with a pour ahead, the soonest first. */
  readonly coming: readonly JobView[];
  /** Jobs still being laid out. */
  readonly laying: readonly JobView[];
}

const NEXT_MOST = 3;

/** All that the foreman's first screen shows, from the jobs on this phone and the outlook it keeps. */
export function readNow(jobs: readonly JobView[], outlook: Outlook | null, now: Date): NowView {
  const open = jobs.filter((job) => !job.closed);
  const order = byUrgency(now);
  const poured = open
    .filter((job) => job.loads.length + job.unticketed.length > 0)
    .map((job) => cardOf(job, outlook, now))
    .sort((a, b) => compareCards(a, b, order));
  const tasks = poured.flatMap((card) => card.tasks).sort(order);
  const ahead = open.filter((job) => job.loads.length + job.unticketed.length === 0);
  const lead = tasks[0] ?? null;
  return {
    lead,
    next: tasks.slice(1, 1 + NEXT_MOST),
    poured,
    coming: ahead.filter((job) => job.order).sort((a, b) => pourTime(a) - pourTime(b)),
    laying: ahead.filter((job) => !job.order),
  };
}

function cardOf(job: JobView, outlook: Outlook | null, now: Date): JobCard {
  const look = outlook?.jobs[job.id];
  const reminders = outlook?.reminders ?? [];
  const tasks = tasksOf(job, look, reminders, now).sort(byUrgency(now));
  return { job, look: look ?? null, tasks };
}

/** Whether a reminder was told and has not run out. */
export const isTold = ({ state, expires }: Reminder, now: Date): boolean =>
  ['due', 'sent', 'failed'].includes(state) && Date.parse(expires) > now.getTime();

/** Whether a reminder asks: it is for this job, undone, and nobody has it in hand, by the server's word or this phone's own log. */
export function isAsking(job: JobView, reminder: Reminder, now: Date): boolean {
  if (reminder.job !== job.id || isDone(job, reminder)) return false;
  return isTold(reminder, now) && !reminder.acknowledged && !Object.hasOwn(job.acks, reminder.id);
}

function compareCards(a: JobCard, b: JobCard, order: (a: Task, b: Task) => number): number {
  const [first, second] = [a.tasks[0], b.tasks[0]];
  if (first && second) return order(first, second);
  if (first || second) return first ? -1 : 1;
  return a.job.name.localeCompare(b.job.name);
}

const pourTime = (job: JobView) => Date.parse(job.order?.pour_at ?? '') || Infinity;

/** Minutes after which windows worked out are called old: sooner while concrete is setting. */
const OLD_MIN = { setting: 60, later: 8 * 60 };

export interface Freshness {
  minutes: number;
  old: boolean;
}

/** How old an outlook is, and whether that is too old for the phase the job is in. */
export function freshness(job: JobView, look: JobOutlook, now: Date): Freshness {
  const minutes = Math.max(0, Math.floor((now.getTime() - Date.parse(look.computed_at)) / 60_000));
  const setting = job.phase === 'pour' || job.phase === 'texture';
  return { minutes, old: minutes >= (setting ? OLD_MIN.setting : OLD_MIN.later) };
}
