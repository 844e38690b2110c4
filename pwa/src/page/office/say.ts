import { formatDuration } from '../../shared/units';
import type { JobId } from '../../shared/events';
import { sayMoment } from '../look';
import { jobs } from '../log/journal';
import { board } from '../sync/board';
import type { BoardJob, Outlook } from '../sync/contract';
import { t } from '../words';
import { PHASE_ORDER, slackMinutes } from './state';

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

/** "Saw by 9:40 pm" with its slack, "12 min late". */
export function sayNext(job: BoardJob, now: Date): { head: string; slack: string } | null {
  if (!job.next) return null;
  const zone = zoneOf(job.job);
  const what = t(`office.what.${job.next.what}`);
  const slack = slackMinutes(job, now);
  const { closes } = job.next;
  const due = Date.parse(job.next.due);
  const opensLater = due > now.getTime();
  const head = opensLater
    ? t('office.next.from', { what, time: sayMoment(new Date(due), now, zone) })
    : closes
      ? t('office.next.by', { what, time: sayMoment(new Date(closes.early), now, zone) })
      : t('office.next.open', { what });
  return { head, slack: slack === null ? '' : saySlack(slack) };
}

export function saySlack(minutes: number): string {
  const left = formatDuration(Math.abs(minutes));
  return t(minutes < 0 ? 'office.slack.late' : 'office.slack.left', { left });
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
