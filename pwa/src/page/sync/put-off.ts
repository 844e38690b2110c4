// Reminders put off: until when one may be, and whether one is.
import type { ReminderId } from '../../shared/events';
import type { JobView } from '../../shared/job';
import type { Reminder } from './contract';

const PUT_OFF_MS = 30 * 60_000;
/** What must be left of the window when a reminder that was put off comes again. */
const LEFT_MS = 15 * 60_000;

/** Put off until a time that is still ahead. */
export function putOff(reminder: Pick<Reminder, 'id'>, job: Pick<JobView, 'snoozes'>, now: Date): JobView['snoozes'][ReminderId] | null {
  const snooze = job.snoozes[reminder.id as ReminderId];
  return snooze && Date.parse(snooze.until) > now.getTime() ? snooze : null;
}

/** Half an hour on, or as long as the window surely leaves time; null when it leaves none. */
export function putOffUntil(reminder: Pick<Reminder, 'closes' | 'stage'>, now: Date): Date | null {
  if (reminder.stage === 'missed') return null;
  const last = reminder.closes ? Date.parse(reminder.closes.early) - LEFT_MS : Infinity;
  const until = Math.min(now.getTime() + PUT_OFF_MS, last);
  return until - now.getTime() >= 5 * 60_000 ? new Date(until) : null;
}
