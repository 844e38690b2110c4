// Reminders put off: until when one may be, and whether one is.
import type { ReminderId } from '../../shared/events';
import type { JobView } from '../../shared/job';
import type { Reminder } from './contract';

const PUT_OFF_MS = 30 * 60_000;
type Held = Pick<Reminder, 'id' | 'stage' | 'opens' | 'closes' | 'expires'>;
/** What must be left of the window when a reminder that was put off comes again. */
const LEFT_MS = 15 * 60_000;

/** Put off until a time that is still ahead. Within its window only: a heads-up until the opening, an opening while
 * the window is surely open; a last call and a missed never. */
export function putOff(reminder: Held, job: Pick<JobView, 'snoozes'>, now: Date): JobView['snoozes'][ReminderId] | null {
  const snooze = job.snoozes[reminder.id as ReminderId];
  if (!snooze || (reminder.stage !== 'heads_up' && reminder.stage !== 'open')) return null;
  const trueUntil = Date.parse(reminder.stage === 'heads_up' ? reminder.opens.likely : (reminder.closes?.early ?? reminder.expires));
  return Math.min(Date.parse(snooze.until), trueUntil) > now.getTime() ? snooze : null;
}

/** Half an hour on, or as long as the window surely leaves time; null when it leaves none. */
export function putOffUntil(reminder: Pick<Reminder, 'closes' | 'stage'>, now: Date): Date | null {
  if (reminder.stage !== 'heads_up' && reminder.stage !== 'open') return null;
  const last = reminder.closes ? Date.parse(reminder.closes.early) - LEFT_MS : Infinity;
  const until = Math.min(now.getTime() + PUT_OFF_MS, last);
  return until - now.getTime() >= 5 * 60_000 ? new Date(until) : null;
}
