// Who of a company a reminder goes to, and when it goes on to the next: the server's rule (slabtide.reminders), read
// from the log on this phone. Both sides read tests/vectors/first_told.json.
import { zoneOffset_ms } from '../../shared/zone';
import type { Reminder, Role } from '../sync/contract';

export type Person = { readonly id: string; readonly role: Role };
type Of = Pick<Reminder, 'what' | 'stage'>;

const NIGHT_WORK_MS = 18 * 3_600_000;
const onTheSlab: readonly Role[] = ['crew', 'foreman'];
const onTheDay: readonly Reminder['what'][] = ['check', 'texture', 'saw'];
const minutes = 60_000;

/** How long one that nobody took waits before it goes on, by `what/stage`; the others wait for nobody. */
export const WAITS_MS: Readonly<Record<string, number>> = {
  'check/open': 20 * minutes,
  'texture/open': 20 * minutes,
  'texture/last_call': 10 * minutes,
  'saw/open': 45 * minutes,
  'saw/last_call': 15 * minutes,
  'wash/last_call': 60 * minutes,
  'colour/last_call': 60 * minutes,
  'seal/last_call': 60 * minutes,
};

/** The roles a reminder is for. */
export function audienceOf({ what, stage }: Of): readonly Role[] {
  if ((what === 'texture' || what === 'saw') && stage === 'last_call') return ['foreman', 'crew'];
  return what === 'saw' && stage === 'missed' ? ['foreman', 'office'] : ['foreman'];
}

/** Who of `people` is told first. `logged`: who wrote to the job in its working day; asked only where that matters. */
export function firstTold(reminder: Of, lead: string | null, people: readonly Person[], logged: () => ReadonlySet<string>): Set<string> {
  const { what, stage } = reminder;
  const roles = audienceOf(reminder);
  const named = people.filter(({ role }) => role !== 'crew' && roles.includes(role));
  const leads = people.filter(({ id }) => id === lead);
  if (stage === 'missed') return ids(named);
  if (roles.includes('crew')) return ids([...named, ...crewOf(lead, people, logged())]);
  if (onTheDay.includes(what) && (stage === 'heads_up' || stage === 'open') && leads.length > 0) return ids(leads);
  return ids([...named, ...leads]);
}

const ids = (people: readonly Person[]): Set<string> => new Set(people.map(({ id }) => id));

function crewOf(lead: string | null, people: readonly Person[], logged: ReadonlySet<string>): readonly Person[] {
  const onIt = ({ id, role }: Person): boolean => id === lead || (logged.has(id) && onTheSlab.includes(role));
  if (lead === null && !people.some(onIt)) return people.filter(({ role }) => role === 'crew');
  return people.filter(onIt);
}

/**
 * Whether `me` sees it now: told first; or, where nobody took it in time, the foremen and after them the office. Not
 * further than the foremen with a check: nobody at a desk can press a slab.
 */
export function isMine(reminder: Of & Pick<Reminder, 'due'>, me: Person, first: ReadonlySet<string>, nowMs: number): boolean {
  if (first.has(me.id)) return true;
  const wait = WAITS_MS[`${reminder.what}/${reminder.stage}`];
  if (wait === undefined || me.role === 'crew') return false;
  if (me.role === 'office' && reminder.what === 'check') return false;
  return nowMs >= Date.parse(reminder.due) + (me.role === 'foreman' ? wait : 2 * wait);
}

/** When the working day of a job began: at midnight by its clock, or 18 hours ago where that is sooner. */
export function workingDay(nowMs: number, timeZone: string): number {
  return Math.min(midnight(nowMs, timeZone), nowMs - NIGHT_WORK_MS);
}

function midnight(nowMs: number, timeZone: string): number {
  const guess = nowMs - sinceMidnight(nowMs, timeZone);
  const past = sinceMidnight(guess, timeZone); // not 0 where the clocks changed in between
  return past < 12 * 3_600_000 ? guess - past : guess + 24 * 3_600_000 - past;
}

function sinceMidnight(atMs: number, timeZone: string): number {
  return (atMs + zoneOffset_ms(atMs, timeZone)) % (24 * 3_600_000);
}
