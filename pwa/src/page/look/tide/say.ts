import { formatDuration } from '../../../shared/units';
import { t } from '../../words';
import { sayMoment } from './moment';
import { minutesToOpen, stateWord, timeLeft, type StateWord, type When, type WorkWindow } from './window';

/** "9:50 am to 10:45 am", or one time when both ends read the same. */
export function sayRange(when: When, now: Date, timeZone: string): string {
  const early = sayMoment(new Date(when.early), now, timeZone);
  const late = sayMoment(new Date(when.late), now, timeZone);
  return early === late ? early : t('look.tide.range', { early, late });
}

/** What is left, never "0 min". */
export const sayLeft = (minutes: number): string =>
  minutes < 1 ? t('look.under_minute') : formatDuration(minutes);

export const sayState = (state: StateWord): string => t(`look.state.${state}`);

/** The time that matters now, and what it means: "35 min left, to 9:40 pm". */
export function sayTime(now: Date, window: WorkWindow, timeZone: string): string {
  const at = (iso: string) => sayMoment(new Date(iso), now, timeZone);
  const state = stateWord(now, window);
  if (state === 'too_soft') {
    const left = formatDuration(minutesToOpen(now, window));
    return t('look.tide.opens', { time: at(window.opens.likely), left });
  }
  const end = timeLeft(now, window);
  if (state !== 'past' && end) {
    const params = { left: sayLeft(end.minutes), time: sayMoment(end.by, now, timeZone) };
    return t(end.kind === 'safe' ? 'look.tide.left' : 'look.tide.may_close', params);
  }
  if (!window.closes) return t('look.tide.since', { time: at(window.opens.likely) });
  return t('look.tide.closed', { time: at(window.closes.likely) });
}

/** The whole of a row in words, for those who can't see the strip. */
export function sayRow(label: string, now: Date, window: WorkWindow | null, timeZone: string): string {
  if (!window) return `${label}: ${t('look.tide.none')}`;
  const at = (when: When) => ({
    time: sayMoment(new Date(when.likely), now, timeZone),
    range: sayRange(when, now, timeZone),
  });
  const opens = t('look.tide.say_opens', at(window.opens));
  const closes = window.closes ? t('look.tide.say_closes', at(window.closes)) : t('look.tide.say_no_close');
  return `${label}: ${sayState(stateWord(now, window))}. ${sayTime(now, window, timeZone)}. ${opens} ${closes}`;
}
