import { formatDuration } from '../../shared/units';
import type { JobId } from '../../shared/events';
import { sayLeft, sayMoment, sayState } from '../look';
import { jobs } from '../log/journal';
import { board } from '../sync/board';
import type { BoardJob, Outlook } from '../sync/contract';
import { t } from '../words';
import { endOf, isPast, PHASE_ORDER, standing } from './state';

/** The job's time zone, where this device holds the job; else the desk's own. */
export function zoneOf(job: JobId): string {
  const known = jobs.value.find((one) => one.id === job)?.opened?.time_zone;
  const told = board.peek()?.jobs.find((one) => one.job === job)?.time_zone;
  return known ?? told ?? Intl.DateTimeFormat().resolvedOptions().timeZone;
}

/** A person's name, by id; what came when nobody has that id (the server may send a name). */
export function personName(by: string, outlook: Outlook | null): string {
  return outlook?.people.find((person) => person.id === by)?.name ?? by;
}

/** What is next and how it stands, in the phone's own words: "Saw by 9:40 pm" with "35 min left", "Saw now" with "may close any time". */
export function sayNext(job: BoardJob, now: Date): { head: string; slack: string } | null {
  if (!job.next) return null;
  const { next } = job;
  const what = t(`office.what.${next.what}`);
  const at = (iso: string): string => sayMoment(new Date(iso), now, zoneOf(job.job));
  const end = endOf(next, now);
  if (isPast(next, now)) return { head: t('office.next.past', { what }), slack: next.closes ? t('look.tide.closed', { time: at(next.closes.likely) }) : '' };
  if (end?.kind === 'even') return { head: t('now.at_once', { what }), slack: t('look.tide.may_close', { time: at(end.by.toISOString()), left: sayLeft(end.minutes) }) };
  const slack = end ? t('now.left', { left: sayLeft(end.minutes) }) : '';
  if (Date.parse(next.due) > now.getTime()) return { head: t('office.next.from', { what, time: at(next.due) }), slack };
  return { head: next.closes ? t('now.by', { what, time: at(next.closes.early) }) : t('office.next.open', { what }), slack };
}

/** How a job stands, in a word; where its window may close any time or has closed, as the phone says it. */
export function sayStanding(job: BoardJob, now: Date): string {
  const how = standing(job, now);
  if (how !== 'late') return t(`office.standing.${how}`);
  return job.next && isPast(job.next, now) ? sayState('past') : t('office.standing.any_time');
}

/** "8 min ago". */
export function sayAgo(iso: string, now: Date): string {
  const minutes = Math.floor((now.getTime() - Date.parse(iso)) / 60_000);
  return minutes < 1 ? t('now.just_now') : t('now.ago', { age: formatDuration(minutes) });
}

/** A phase's name; what the server says when this version does not know it. */
export function phaseWords(phase: string): string {
  const known = PHASE_ORDER.find((one) => one === phase);
  return known ? t(`shell.phase.${known}`) : phase;
}
