import { formatTime } from '../../../shared/units';
import { language } from '../../shell/preferences';

const DAY_MS = 86_400_000;

/** The local calendar day of a moment, as `2026-07-14`. */
export function localDay(moment: Date, timeZone: string): string {
  const parts = new Intl.DateTimeFormat('en-CA', {
    timeZone,
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
  }).formatToParts(moment);
  const read = (type: string) => parts.find((part) => part.type === type)?.value ?? '';
  return `${read('year')}-${read('month')}-${read('day')}`;
}

/** A day's name when it is near ("Thu"), its date when it is not ("Jul 23"); empty for today. */
export function sayDay(moment: Date, now: Date, timeZone: string): string {
  if (localDay(moment, timeZone) === localDay(now, timeZone)) return '';
  const near = Math.abs(moment.getTime() - now.getTime()) < 6 * DAY_MS;
  const locale = language.value === 'es' ? 'es-US' : 'en-US';
  const form: Intl.DateTimeFormatOptions = near ? { weekday: 'short' } : { month: 'short', day: 'numeric' };
  return new Intl.DateTimeFormat(locale, { timeZone, ...form }).format(moment);
}

/** The short name of a moment's local day: "Tue". */
export function sayWeekday(moment: Date, timeZone: string): string {
  const locale = language.value === 'es' ? 'es-US' : 'en-US';
  return new Intl.DateTimeFormat(locale, { timeZone, weekday: 'short' }).format(moment);
}

/** A time in the job's zone, with its day when that is not today: "9:40 pm", "Thu 9:40 pm". */
export function sayMoment(moment: Date, now: Date, timeZone: string): string {
  const day = sayDay(moment, now, timeZone);
  const clock = formatTime(moment, timeZone);
  return day ? `${day} ${clock}` : clock;
}
