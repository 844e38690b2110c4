// Which reminders are due, from the outlook on the phone: works with no signal at all.
import type { Reminder } from '../sync/contract';

const movedMs = 15 * 60_000;

/** Whether to raise a reminder, given for when it was raised last: again only when it moved by more than 15 minutes. */
export const isNews = ({ due }: Reminder, raisedFor: string | undefined): boolean =>
  raisedFor === undefined || Math.abs(Date.parse(due) - Date.parse(raisedFor)) > movedMs;

/** Texturing has the phone's own tone and line over every screen while somebody looks: a reminder besides would say it twice. */
export const isToldBySignals = ({ what }: Reminder): boolean => what === 'texture';

const settledStates = new Set<Reminder['state']>(['acknowledged', 'cancelled', 'missed']);
const urgency: Readonly<Record<Reminder['stage'], number>> = { last_call: 3, open: 2, heads_up: 1, missed: 0 };

/** Due now, not past, not acknowledged here or there; the most urgent first. `acked` holds ids the log knows. */
export function dueReminders(reminders: readonly Reminder[], acked: ReadonlySet<string>, now: Date, putOff: (reminder: Reminder) => boolean = () => false): Reminder[] {
  return reminders
    .filter((reminder) => isOpen(reminder, acked) && !putOff(reminder) && Date.parse(reminder.due) <= now.getTime() && Date.parse(reminder.expires) > now.getTime())
    .sort((one, other) => urgency[other.stage] - urgency[one.stage] || one.due.localeCompare(other.due));
}

function isOpen(reminder: Reminder, acked: ReadonlySet<string>): boolean {
  return !settledStates.has(reminder.state) && reminder.acknowledged === null && !acked.has(reminder.id);
}
