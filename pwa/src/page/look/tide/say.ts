import { t } from '../../words';
import { formatDuration, formatTime } from '../../../shared/units';
import { minutesToOpen, stateWord, timeLeft, type StateWord, type When, type WorkWindow } from './window';

const likely = (when: When, timeZone: string) => formatTime(new Date(when.likely), timeZone);

/** "9:50 to 10:45", or one time when both ends read the same. */
export function sayRange(when: When, timeZone: string): string {
  const early = formatTime(new Date(when.early), timeZone);
  const late = formatTime(new Date(when.late), timeZone);
  return early === late ? early : t('look.tide.range', { early, late });
}

export const sayState = (state: StateWord): string => t(`look.state.${state}`);

/** The time that matters now, and what it means: "35 min left, to 9:40". */
export function sayTime(now: Date, window: WorkWindow, timeZone: string): string {
  const state = stateWord(now, window);
  if (state === 'too_soft') {
    const left = formatDuration(minutesToOpen(now, window));
    return t('look.tide.opens', { time: likely(window.opens, timeZone), left });
  }
  const end = timeLeft(now, window);
  if (state !== 'past' && end) {
    const params = { left: formatDuration(end.minutes), time: formatTime(end.by, timeZone) };
    return t(end.kind === 'safe' ? 'look.tide.left' : 'look.tide.left_at_most', params);
  }
  if (!window.closes) return t('look.tide.since', { time: likely(window.opens, timeZone) });
  return t('look.tide.closed', { time: likely(window.closes, timeZone) });
}

/** The whole of a row in words, for those who can't see the strip. */
export function sayRow(label: string, now: Date, window: WorkWindow | null, timeZone: string): string {
  if (!window) return `${label}: ${t('look.tide.none')}`;
  const opens = t('look.tide.say_opens', {
    time: likely(window.opens, timeZone),
    range: sayRange(window.opens, timeZone),
  });
  const closes = window.closes
    ? t('look.tide.say_closes', {
        time: likely(window.closes, timeZone),
        range: sayRange(window.closes, timeZone),
      })
    : t('look.tide.say_no_close');
  return `${label}: ${sayState(stateWord(now, window))}. ${sayTime(now, window, timeZone)}. ${opens} ${closes}`;
}
