import { formatTime } from '../../../shared/units';
import { language } from '../../shell/preferences';

const DAY_MS = 86_400_000;

const FORMS = {
  date: { year: 'numeric', month: '2-digit', day: '2-digit' },
  weekday: { weekday: 'short' },
  day: { month: 'short', day: 'numeric' },
} as const satisfies Record<string, Intl.DateTimeFormatOptions>;

const made = new Map<string, Intl.DateTimeFormat>();

/** A formatter, made once: making one costs far more than using it. */
function form(tongue: string, timeZone: string, name: keyof typeof FORMS): Intl.DateTimeFormat {
  const key = `${tongue} ${timeZone} ${name}`;
  const known = made.get(key) ?? new Intl.DateTimeFormat(tongue, { timeZone, ...FORMS[name] });
  made.set(key, known);
  return known;
}

const locale = () => (language.value === 'es' ? 'es-US' : 'en-US');

/** The local calendar day of a moment, as `2026-07-14`. */
export function localDay(moment: Date, timeZone: string): string {
  const parts = form('en-CA', timeZone, 'date').formatToParts(moment);
  const read = (type: string) => parts.find((part) => part.type === type)?.value ?? '';
  return `${read('year')}-${read('month')}-${read('day')}`;
}

/** A day's name when it is near ("Thu"), its date when it is not ("Jul 23"); empty for today. */
export function sayDay(moment: Date, now: Date, timeZone: string): string {
  if (localDay(moment, timeZone) === localDay(now, timeZone)) return '';
  const near = Math.abs(moment.getTime() - now.getTime()) < 6 * DAY_MS;
  return form(locale(), timeZone, near ? 'weekday' : 'day').format(moment);
}

/** The short name of a moment's local day: "Tue". */
export function sayWeekday(moment: Date, timeZone: string): string {
  return form(locale(), timeZone, 'weekday').format(moment);
}

/** A time in the job's zone, with its day when that is not today: "9:40 pm", "Thu 9:40 pm". */
export function sayMoment(moment: Date, now: Date, timeZone: string): string {
  const day = sayDay(moment, now, timeZone);
  const clock = formatTime(moment, timeZone);
  return day ? `${day} ${clock}` : clock;
}
