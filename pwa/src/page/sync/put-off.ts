// Reminders put off: until when one may be, and whether one is.
import type { ReminderId } from '../../shared/events';
import type { JobView } from '../../shared/job';
import type { Reminder } from './contract';

const PUT_OFF_MS = 30 * 60_000;
type Counted = Pick<Reminder, 'counts_from'>;
type Held = Counted & Pick<Reminder, 'id' | 'job' | 'what' | 'subject' | 'stage' | 'opens' | 'closes' | 'expires'>;
type Other = Pick<Reminder, 'job' | 'what' | 'subject' | 'stage' | 'due'>;
/** What must be left of the window when a reminder that was put off comes again. */
const LEFT_MS = 15 * 60_000;

/** Whether what was said of a reminder then still counts: not what was said before its last move. */
export const stillCounts = ({ counts_from }: Counted, at: string): boolean => !counts_from || Date.parse(at) > Date.parse(counts_from);

/**
 * Until when a reminder that was put off is held, ms; null when nothing holds it. Never past the last call of the same
 * work, which is looked for among `others`; a last call and a missed not at all. The server's twin reads the same vectors.
 */
export function heldUntil(reminder: Held, snooze: { readonly at: string; readonly until: string } | undefined, others: readonly Other[]): number | null {
  if (!snooze || (reminder.stage !== 'heads_up' && reminder.stage !== 'open') || !stillCounts(reminder, snooze.at)) return null;
  const { job, what, subject, opens, closes, expires } = reminder;
  const lastCalls = others.filter((other) => other.stage === 'last_call' && other.job === job && other.what === what && other.subject === subject);
  const trueUntil = reminder.stage === 'heads_up' ? opens.likely : (closes?.late ?? expires);
  const until = Math.min(...[snooze.until, expires, trueUntil, ...lastCalls.map(({ due }) => due)].map((text) => Date.parse(text)));
  return until > Date.parse(snooze.at) ? until : null;
}

/** Who put it off until a time that is still ahead; null when nobody did. */
export function putOff(reminder: Held, job: Pick<JobView, 'snoozes'>, now: Date, others: readonly Other[]): JobView['snoozes'][ReminderId] | null {
  const snooze = job.snoozes[reminder.id as ReminderId];
  const until = heldUntil(reminder, snooze, others);
  return snooze && until !== null && until > now.getTime() ? snooze : null;
}

/** Half an hour on, or as long as the window surely leaves time; null when it leaves none. */
export function putOffUntil(reminder: Pick<Reminder, 'closes' | 'stage'>, now: Date): Date | null {
  if (reminder.stage !== 'heads_up' && reminder.stage !== 'open') return null;
  const last = reminder.closes ? Date.parse(reminder.closes.early) - LEFT_MS : Infinity;
  const until = Math.min(now.getTime() + PUT_OFF_MS, last);
  return until - now.getTime() >= 5 * 60_000 ? new Date(until) : null;
}
