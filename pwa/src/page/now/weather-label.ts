// What the times rest on. Server and engine name it in English, for logs and files; a person reads it in their own language.
import { language } from '../shell/preferences';
import { t } from '../words';

const BY_HAND = /^Entered by hand for (\w{3} \d{1,2})(?: to (\w{3} \d{1,2}))?$/;
const TYPICAL = /^(.*), typical year \(TMY3\)$/;
const LAST_KNOWN = /^(.*), last known$/;

/** The label of a job's weather in the person's words; names of stations and services stay as they are. */
export function sayWeatherLabel(label: string): string {
  return label.split('; ').map(sayPart).join('; ');
}

function sayPart(part: string): string {
  const [whole, first, last] = BY_HAND.exec(part) ?? [];
  if (whole && first) {
    const [from, to] = [sayDate(first), last && sayDate(last)];
    return to ? t('now.weather.handSpan', { from, to }) : t('now.weather.hand', { day: from });
  }
  const station = TYPICAL.exec(part)?.[1];
  if (station) return t('now.weather.typical', { station });
  const source = LAST_KNOWN.exec(part)?.[1];
  return source ? t('now.weather.lastKnown', { source }) : part;
}

/** "Nov 29" in the person's language. The year does not show. */
function sayDate(english: string): string {
  const day = new Date(`${english}, 2028 UTC`); // a leap year: it has every day
  return new Intl.DateTimeFormat(language.value === 'es' ? 'es-US' : 'en-US', { month: 'short', day: 'numeric', timeZone: 'UTC' }).format(day);
}
