import { timeLeft, type Left } from '../look';
import type { BoardJob } from '../sync/contract';

type Next = NonNullable<BoardJob['next']>;

export type Standing = 'late' | 'watch' | 'steady';
export type SortKey = 'urgent' | 'name' | 'phase' | 'pour' | 'heard';
export type Show = 'all' | 'late' | 'open_hand';

export interface BoardChoice {
  readonly search: string;
  /** A phase, or '' for every one. */
  readonly phase: string;
  readonly show: Show;
  readonly sort: SortKey;
  readonly down: boolean;
}

export const FIRST_CHOICE: BoardChoice = { search: '', phase: '', show: 'all', sort: 'urgent', down: false };

export const PHASE_ORDER = ['layout', 'ready', 'pour', 'texture', 'next_days', 'record'] as const;

const MINUTE_MS = 60_000;
/** Less slack than this is worth a call [min]. */
const TIGHT_MIN = 90;
/** Entries held on a phone longer than this are worth a call [min]. */
const HELD_MIN = 240;

/** Minutes to the early close of what is next: negative when late; null when nothing closes. */
export function slackMinutes(job: BoardJob, now: Date): number | null {
  if (!job.next) return null;
  if (!job.next.closes) return job.next.slack_min;
  return Math.floor((Date.parse(job.next.closes.early) - now.getTime()) / MINUTE_MS);
}

/** What is left of the window of what is next, as the phone counts it; null where it is past or does not close. */
export const endOf = ({ due, closes }: Next, now: Date): Left | null =>
  timeLeft(now, { opens: { early: due, likely: due, late: due }, closes });

/** Whether the window of what is next has likely closed with its work undone. */
export function isPast(next: Next, now: Date): boolean {
  const told = next.stage === 'missed' && Date.parse(next.due) <= now.getTime();
  return told || next.state === 'missed' || (next.closes !== null && now.getTime() >= Date.parse(next.closes.likely));
}

/** Whether what is next has been taken in hand by someone. */
export const inHand = (job: BoardJob): boolean => job.next?.state === 'acknowledged';

/** Late (the server's name for it): a window may close any time, or has, with its work undone. Watch: soon, not in hand, undelivered, or a phone holds entries back. */
export function standing(job: BoardJob, now: Date): Standing {
  const slack = slackMinutes(job, now);
  if (
    job.next &&
    (job.next.stage === 'missed' || job.next.state === 'missed' || (slack !== null && slack < 0))
  )
    return 'late';
  const due = job.next !== null && Date.parse(job.next.due) <= now.getTime();
  const tight = slack !== null && slack < TIGHT_MIN;
  const undelivered = job.next?.state === 'failed';
  return tight || undelivered || (due && !inHand(job)) || heldBack(job, now) || job.problem
    ? 'watch'
    : 'steady';
}

/** Whether a phone has held entries of this job for hours. */
export function heldBack(job: BoardJob, now: Date): boolean {
  if (job.unsent === 0 || !job.oldest_unsent_at) return false;
  return now.getTime() - Date.parse(job.oldest_unsent_at) > HELD_MIN * MINUTE_MS;
}

/** Text for searching: small letters, accents off, so that "jose" finds José. */
export function plainText(text: string): string {
  return text
    .normalize('NFD')
    .replace(/\p{Diacritic}/gu, '')
    .toLowerCase();
}

/** The jobs to show, in the order to show them. */
export function pickJobs(jobs: readonly BoardJob[], choice: BoardChoice, now: Date): BoardJob[] {
  const words = plainText(choice.search).split(/\s+/).filter(Boolean);
  const shown = jobs.filter((job) => {
    const text = plainText(`${job.name} ${job.place ?? ''} ${job.last_heard_from ?? ''}`);
    const asked = choice.phase === '' || job.phase === choice.phase;
    return asked && words.every((word) => text.includes(word)) && fits(job, choice.show, now);
  });
  const order = ORDERS[choice.sort];
  const sign = choice.down ? -1 : 1;
  return shown.sort(
    (a, b) => sign * order(a, b, now) || a.name.localeCompare(b.name) || a.job.localeCompare(b.job),
  );
}

function fits(job: BoardJob, show: Show, now: Date): boolean {
  if (show === 'late') return standing(job, now) !== 'steady';
  if (show === 'open_hand') return job.next !== null && !inHand(job);
  return true;
}

type Order = (a: BoardJob, b: BoardJob, now: Date) => number;
const STANDINGS: readonly Standing[] = ['late', 'watch', 'steady'];

const time = (iso: string | null | undefined): number => (iso ? Date.parse(iso) : Infinity);
const compare = (a: number, b: number): number => (a === b ? 0 : a < b ? -1 : 1);
const rank = (phase: string): number => PHASE_ORDER.findIndex((known) => known === phase);

const ORDERS: Readonly<Record<SortKey, Order>> = {
  urgent: (a, b, now) =>
    STANDINGS.indexOf(standing(a, now)) - STANDINGS.indexOf(standing(b, now)) ||
    compare(deadline(a), deadline(b)) ||
    compare(time(a.pour_at), time(b.pour_at)),
  name: (a, b) => a.name.localeCompare(b.name),
  phase: (a, b) => rank(a.phase) - rank(b.phase),
  pour: (a, b) => compare(time(a.pour_at), time(b.pour_at)),
  heard: (a, b) => compare(time(a.last_heard_at), time(b.last_heard_at)),
};

const deadline = (job: BoardJob): number => time(job.next?.closes?.early ?? job.next?.due);

/** The next choice when a column's heading is pressed: that column, or the other way round when it already leads. */
export function sortBy(choice: BoardChoice, sort: SortKey): BoardChoice {
  return choice.sort === sort ? { ...choice, down: !choice.down } : { ...choice, sort, down: false };
}

/** All items done of all items, over the six checklists. */
export function checklistSum(job: BoardJob): { done: number; total: number } {
  return Object.values(job.checklists).reduce(
    (sum, list) => ({ done: sum.done + list.done, total: sum.total + list.total }),
    { done: 0, total: 0 },
  );
}

/** How many jobs are late and how many want watching. */
export function countStandings(jobs: readonly BoardJob[], now: Date): Readonly<Record<Standing, number>> {
  const counts = { late: 0, watch: 0, steady: 0 };
  for (const job of jobs) counts[standing(job, now)] += 1;
  return counts;
}
