// Which of the poured jobs ask for something now or within a day; the rest wait behind one line.
import { signal } from '@preact/signals';
import { findDoubles } from '../../shared/doubles';
import { timeLeft } from '../look/tide/window';
import type { JobView } from '../../shared/job';
import type { Outlook } from '../sync/contract';
import { isFar } from '../sync/far';
import type { JobCard } from './state';
import type { Task } from './tasks';

const DAY_MS = 24 * 3_600_000;

/** Whether the rest is unfolded. For this visit: a fresh start folds it again. */
export const restOpen = signal(false);

export interface Parted {
  /** Work that runs, opens or ends within a day; concrete that sets; what someone must look at. */
  readonly near: readonly JobCard[];
  readonly rest: readonly JobCard[];
}

/** Parts the cards, each part in the order given. The job of the first line is always near. */
export function partCards(cards: readonly JobCard[], lead: Task | null, told: Outlook | null, now: Date): Parted {
  const near = cards.filter((card) => card.job.id === lead?.job.id || isNear(card, told, now));
  return { near, rest: cards.filter((card) => !near.includes(card)) };
}

function isNear({ job, look, tasks }: JobCard, told: Outlook | null, now: Date): boolean {
  if (isFresh(job, now)) return true;
  if (findDoubles(job.loads, job.notes).length > 0) return true;
  // Poured, and no times for it: nobody can say that it may wait, but for a job the server knows to be far.
  if (!look?.timeline && !isFar(told, job)) return true;
  return tasks.some((task) => isDue(task, now));
}

/** Concrete came within a day, and its hand work is not all done. */
function isFresh(job: JobView, now: Date): boolean {
  if (job.phase !== 'pour' && job.phase !== 'texture') return false;
  const came = [...job.loads.map((load) => load.batched_at), ...job.unticketed.map(({ placed }) => placed.from)];
  return came.some((at) => now.getTime() - Date.parse(at) <= DAY_MS);
}

/** Begun, running out, just missed; or opening or ending no more than a day from now, either way. */
function isDue(task: Task, now: Date): boolean {
  if (task.started || task.state === 'closing' || task.state === 'past') return true;
  const end = timeLeft(now, task.window)?.by.getTime() ?? Infinity;
  return Math.abs(Date.parse(task.window.opens.likely) - now.getTime()) <= DAY_MS || end - now.getTime() <= DAY_MS;
}
