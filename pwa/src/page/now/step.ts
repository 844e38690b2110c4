import { LISTS, progress } from '../../shared/checklists';
import type { JobView } from '../../shared/job';
import { formatDuration } from '../../shared/units';
import { sayMoment } from '../look/tide/moment';
import type { StateWord } from '../look/tide/window';
import type { JobOutlook, Reminder } from '../sync/contract';
import { t } from '../words';
import { sayLead, type Lead } from './say';
import { byUrgency, tasksOf, type Task } from './tasks';

/** The screen that asks: what is done there comes first. */
export type StepPlace = 'ready' | 'texture' | 'next_days';

/** What to do next, in one sentence; `state` is null where no window stands behind it. */
export interface Step extends Lead {
  readonly state: StateWord | null;
}

/** The first line of a job's screen: what to do next there; where nothing is, what comes next on the slab. */
export function nextStep(
  place: StepPlace,
  job: JobView,
  look: JobOutlook | undefined,
  reminders: readonly Reminder[],
  now: Date,
): Step {
  const tasks = tasksOf(job, look, reminders, now).sort(byUrgency(now));
  const poured = job.loads.length + job.unticketed.length > 0;
  if (!poured) return place === 'texture' ? plannedStep(job, look, now) : readyStep(job, now);
  const blind = !look?.timeline && !isTextured(job);
  // Without times the saw is told by practice, but hand work by hand and foot comes before it.
  const task = tasks.find((one) => belongs(one, place)) ?? (blind ? undefined : tasks[0]);
  if (task) return { ...sayLead(task, now), state: task.state };
  if (blind)
    return { head: t('now.step.noTimes'), tail: t('now.step.noTimesDo'), state: null };
  if (!look && !job.cuts_done && !job.closed)
    return { head: t('now.not_worked_out.title'), tail: t('now.not_worked_out.words'), state: null };
  return { head: t(place === 'texture' ? 'now.step.textured' : 'now.step.done'), tail: '', state: null };
}

const isTextured = (job: JobView): boolean =>
  job.phase === 'next_days' || job.phase === 'record' || job.closed !== null;

function belongs({ work }: Task, place: StepPlace): boolean {
  const hand = work === 'edge' || work === 'texture';
  return place === 'next_days' ? !hand : hand;
}

/** Before the pour: by when to be ready, and what is open. */
function readyStep(job: JobView, now: Date): Step {
  if (!job.order) return { head: t('now.step.order'), tail: t('now.step.orderDo'), state: null };
  const pour = new Date(job.order.pour_at);
  const time = sayMoment(pour, now, job.opened?.time_zone ?? 'UTC');
  const minutes = Math.floor((pour.getTime() - now.getTime()) / 60_000);
  if (minutes < 0) return { head: t('now.step.late', { time }), tail: t('now.step.lateDo'), state: null };
  return { head: t('now.step.ready', { time }), tail: sayOpen(job, minutes), state: null };
}

function sayOpen(job: JobView, minutes: number): string {
  const all = progress(job);
  const open = LISTS.slice(0, 3).filter((list) => all[list].done < all[list].total);
  const count = open.reduce((sum, list) => sum + all[list].total - all[list].done, 0);
  if (count === 0) return t('now.step.allReady', { left: formatDuration(minutes) });
  return t('now.step.open', { count, lists: open.map((list) => t(`ready.list.${list}`)).join(', ') });
}

/** Before the first ticket: about when the mats will come, by the loads as ordered. */
function plannedStep(job: JobView, look: JobOutlook | undefined, now: Date): Step {
  const opens = (look?.timeline?.loads ?? []).flatMap((load) => load.windows.texture?.opens.likely ?? []).sort()[0];
  if (!opens) return readyStep(job, now);
  const time = sayMoment(new Date(opens), now, job.opened?.time_zone ?? 'UTC');
  return { head: t('now.step.planned', { time }), tail: t('now.step.plannedDo'), state: null };
}
