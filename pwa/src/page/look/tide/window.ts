/** Three times for one moment: one chance in ten it is before `early`, one in ten after `late`. ISO 8601. */
export interface When {
  early: string;
  likely: string;
  late: string;
}

/** When a piece of work may start and when it must be done; `closes` is null where only a least age counts. */
export interface WorkWindow {
  opens: When;
  closes: When | null;
}

export type StateWord = 'too_soft' | 'ready' | 'closing' | 'past';

const MINUTE_MS = 60_000;
/** The last fifth before the early close, but never under ten minutes or over an hour, counts as closing. */
const CLOSING_SHARE = 0.2;
const CLOSING_LEAST_MS = 10 * MINUTE_MS;
const CLOSING_MOST_MS = 60 * MINUTE_MS;

const ms = (iso: string) => Date.parse(iso);

/** When a window starts to count as closing [ms]; never before it is likely open. Infinity when it does not close. */
export function closingFrom(window: WorkWindow): number {
  if (!window.closes) return Infinity;
  const opens = ms(window.opens.likely);
  const safe = ms(window.closes.early);
  const lead = Math.min(CLOSING_MOST_MS, Math.max(CLOSING_LEAST_MS, CLOSING_SHARE * (safe - opens)));
  return Math.max(opens, safe - lead);
}

/** The one word for a window now. It opens and closes at its likely times. */
export function stateWord(now: Date, window: WorkWindow): StateWord {
  const moment = now.getTime();
  if (window.closes && moment >= ms(window.closes.likely)) return 'past';
  if (moment < ms(window.opens.likely)) return 'too_soft';
  return moment >= closingFrom(window) ? 'closing' : 'ready';
}

export interface Left {
  /** Whole minutes, rounded down: never promise more than there is. */
  minutes: number;
  /** The time the minutes run to. */
  by: Date;
  /** safe: nine chances in ten it is still open at `by`. even: past that, this is the likely end. */
  kind: 'safe' | 'even';
}

/** What is left of a window: to its early close while that is ahead, to its likely close after. Null when past or without end. */
export function timeLeft(now: Date, window: WorkWindow): Left | null {
  if (!window.closes) return null;
  const early = ms(window.closes.early);
  const kind = now.getTime() < early ? 'safe' : 'even';
  const by = kind === 'safe' ? early : ms(window.closes.likely);
  const minutes = Math.floor((by - now.getTime()) / MINUTE_MS);
  return minutes < 0 ? null : { minutes, by: new Date(by), kind };
}

/** Whole minutes until a window likely opens, rounded up; 0 when it is open. */
export function minutesToOpen(now: Date, window: WorkWindow): number {
  return Math.max(0, Math.ceil((ms(window.opens.likely) - now.getTime()) / MINUTE_MS));
}
