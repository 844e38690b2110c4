// The findings under the plots, as sentences.
import { formatArea, formatDuration, formatVolume } from '../../../shared/units';
import { units } from '../../shell/preferences';
import type { Prior } from '../../sync/contract';
import { isWordKey, language, t } from '../../words';
import type { CalledBack, Counts, KnownPace, Measured, MeasureName, PaceSeen, Waste } from './contract';

const bandShare = 0.8;
/** Within this many percent a mix sets as the book says. */
const asTheBook = 1;

/** Minutes off what was told: "12 min later". */
export function sayOff(minutes: number): string {
  const by = Math.round(minutes);
  if (by === 0) return t('lookback.on_time');
  return t(by < 0 ? 'lookback.early' : 'lookback.late', { by: formatDuration(Math.abs(by)) });
}

/** The same in a table, in whole minutes: "+12", "−35". */
export function saySigned(minutes: number): string {
  const by = Math.round(minutes);
  return by > 0 ? `+${by}` : String(by).replace('-', '−');
}

export function sayFew({ pours }: Counts): string {
  return t('lookback.few', { pours });
}

export function sayMeasured(name: MeasureName, { all }: Measured): string {
  if (all.values === 0) return t('lookback.none_kept');
  if (all.few || all.median_min === null) return sayFew(all);
  const params = { middle: sayOff(all.median_min), inside: all.inside, in_time: all.in_time, all: all.values, expected: Math.round(all.values * bandShare) };
  return t(`lookback.${name}.some`, params);
}

/** "12 % slower", "as the book". */
export function sayPace(percent: number): string {
  const whole = Math.round(Math.abs(percent));
  if (whole < asTheBook) return t('lookback.by_book');
  return t(percent > 0 ? 'lookback.slower' : 'lookback.faster', { percent: whole });
}

export const isByBook = (percent: number): boolean => Math.round(Math.abs(percent)) < asTheBook;

/** What is known for the next pour: "From 4 pours of this mix from this plant: …" */
export function sayKnown(level: Prior['level'], { pours, percent, doubt_percent }: KnownPace): string {
  const params = { pours, pace: t('lookback.about', { pace: sayPace(percent) }), doubt: Math.round(doubt_percent) };
  return t(isByBook(percent) ? `lookback.known.${level}.book` : `lookback.known.${level}`, params);
}

export function sayCrewPace(pace: PaceSeen): string {
  if (pace.m2_per_person_hour === null) return t('lookback.pace.none');
  if (pace.few) return sayFew(pace);
  return sayLay(pace) + t('lookback.pace.some', { rate: formatArea(pace.m2_per_person_hour, units.value) });
}

function sayLay({ lay_minutes: measured, lay_minutes_entered: entered }: PaceSeen): string {
  if (measured === null || entered === null) return '';
  const same = Math.abs(measured - entered) <= 0.1 * entered;
  return t(same ? 'lookback.pace.lay_same' : 'lookback.pace.lay', { measured: measured.toFixed(1), entered: entered.toFixed(1) });
}

export function sayCallbacks({ jobs, few, jobs_called_back, total, per_100, by_what }: CalledBack): string {
  const most = by_what[0];
  if (!most || per_100 === null) return t('lookback.callbacks.none', { all: jobs });
  if (few) return t('lookback.callbacks.few', { total, all: jobs });
  return t('lookback.callbacks.some', { jobs: jobs_called_back, all: jobs, per: per_100, what: sayWhat(most.what) });
}

/** What was called back about; a newer server's word as it came. */
export function sayWhat(what: string): string {
  const key = `entries.callback.${what}`;
  return isWordKey(key) ? t(key) : what;
}

export function sayWaste(waste: Waste): string {
  if (waste.over_percent === null) return t('lookback.waste.none');
  if (waste.few) return sayFew(waste);
  const params = { ordered: formatVolume(waste.ordered_m3, units.value), slab: formatVolume(waste.slab_m3, units.value), percent: Math.abs(waste.over_percent) };
  return t(waste.over_percent < 0 ? 'lookback.waste.under' : 'lookback.waste.some', params);
}

/** "Jul 14" of a plain date. */
export function sayDate(day: string): string {
  return formOf({ month: 'short', day: 'numeric', year: 'numeric' }).format(new Date(`${day}T00:00:00Z`));
}

/** "July 2026" of a month. */
export function sayMonth(month: string): string {
  return formOf({ month: 'long', year: 'numeric' }).format(new Date(`${month}-01T00:00:00Z`));
}

const formOf = (parts: Intl.DateTimeFormatOptions): Intl.DateTimeFormat => new Intl.DateTimeFormat(language.value === 'es' ? 'es-US' : 'en-US', { timeZone: 'UTC', ...parts });
