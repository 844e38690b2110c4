// What the latest surface check changed, and checks that do not fit. No DOM.
import type { Check, JobView } from '../../shared/job';
import type { Timeline } from '../sync/contract';
import { learnedOf, type LearnedChange } from './contract';

export type Lesson = { readonly change: LearnedChange; readonly check: Check };

/** The newest check still standing, with what it did to its own load; null while the times do not know it yet. */
export function latestLesson(job: Pick<JobView, 'checks'>, timeline: Timeline | null | undefined): Lesson | null {
  const check = [...job.checks].sort((a, b) => Date.parse(b.at) - Date.parse(a.at))[0];
  if (!check) return null;
  const load = timeline?.loads.find((one) => one.id === check.load);
  const change = load && learnedOf(load)?.changes.findLast((one) => isOf(one, check));
  return change ? { change, check } : null;
}

/** Checks the engine holds to contradict, and that still stand in the log. */
export function oddChecks(job: Pick<JobView, 'checks'>, timeline: Timeline | null | undefined): readonly Check[] {
  const odd = (timeline?.loads ?? []).flatMap((load) => learnedOf(load)?.contradictory ?? []);
  return job.checks.filter((check) => odd.some((one) => isOf(one, check)));
}

/** The engine tells times to the second. */
function isOf(seen: { readonly load: string; readonly at: string; readonly kind: string }, check: Check): boolean {
  return seen.load === check.load && seen.kind === check.kind && Math.abs(Date.parse(seen.at) - Date.parse(check.at)) < 1_000;
}
