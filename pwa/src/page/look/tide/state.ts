import type { WorkWindow } from './window';

/** Penetration resistance [MPa] where a band starts to show, and at final set, where it is full (ASTM C403: 27.6 MPa). */
const PENETRATION_FLOOR_MPA = 0.02;
const PENETRATION_FULL_MPA = 27.6;
const HOUR_MS = 3_600_000;
/** Steps between hour marks that read well [h]. */
const TICK_STEPS_H = [1, 2, 3, 6, 12, 24, 48];

const clamp01 = (value: number) => Math.min(1, Math.max(0, value));

/** How high a band stands for a penetration resistance [MPa]: 0 to 1 on a log scale, so that the soft hours can be told apart. */
export function penetrationLevel(penetration_mpa: number): number {
  if (!(penetration_mpa > PENETRATION_FLOOR_MPA)) return 0;
  const span = Math.log(PENETRATION_FULL_MPA / PENETRATION_FLOOR_MPA);
  return clamp01(Math.log(penetration_mpa / PENETRATION_FLOOR_MPA) / span);
}

/**
 * How high a band stands for a strength [MPa]: the square root of its share of the design strength [MPa], 0 to 1, so that
 * the first tenth, in which a slab is sawn, can be seen to rise.
 */
export function strengthLevel(strength_mpa: number, design_mpa: number): number {
  return design_mpa > 0 && strength_mpa > 0 ? Math.sqrt(clamp01(strength_mpa / design_mpa)) : 0;
}

export interface Span {
  from: number;
  to: number;
}

/** Whether a moment falls on the strip. */
export const isInside = (moment: Date, span: Span): boolean =>
  moment.getTime() >= span.from && moment.getTime() <= span.to;

/** Places a time [ms] on a strip `width` px wide; times outside are held at the ends. */
export function placeTime(moment: number, span: Span, width: number): number {
  const share = (moment - span.from) / Math.max(1, span.to - span.from);
  return Math.round(clamp01(share) * width * 10) / 10;
}

export interface LevelPoint {
  at: string;
  level: number;
}

/** A point of a curve with its time read [ms]. */
export interface TimedLevel {
  at: number;
  level: number;
}

/** Reads a curve's times once, so that drawing needs no more parsing. */
export const readCurve = (curve: readonly LevelPoint[]): TimedLevel[] =>
  curve.map((point) => ({ at: Date.parse(point.at), level: point.level }));

/** The level of a curve at a moment, straight between points, held at its end; 0 before its first point. */
export function levelAt(curve: readonly TimedLevel[], moment: number): number {
  const next = curve.findIndex((point) => point.at >= moment);
  const after = curve[next];
  if (!after) return curve.at(-1)?.level ?? 0;
  if (after.at === moment) return after.level;
  const before = curve[next - 1];
  if (!before) return 0;
  const share = (moment - before.at) / (after.at - before.at);
  return before.level + share * (after.level - before.level);
}

/** Lowest band height, so that a band of wet concrete can still be seen. */
const BAND_FOOT = 0.14;

/** The outline of the band between two times as an SVG path, `height` px tall when full. Empty when nothing of it is in sight. */
export function bandPath(
  curve: readonly TimedLevel[],
  part: Span,
  span: Span,
  width: number,
  height: number,
): string {
  const from = Math.max(part.from, span.from, curve[0]?.at ?? Infinity);
  const to = Math.min(part.to, span.to);
  if (!(to > from)) return '';
  const inside = curve.filter((point) => point.at > from && point.at < to);
  const ends = (at: number): TimedLevel => ({ at, level: levelAt(curve, at) });
  const top = [ends(from), ...inside, ends(to)].map(({ at, level }) => {
    const stands = BAND_FOOT + (1 - BAND_FOOT) * level;
    return `${placeTime(at, span, width)} ${Math.round((1 - stands) * height * 10) / 10}`;
  });
  return `M${placeTime(from, span, width)} ${height}L${thin(top).join('L')}L${placeTime(to, span, width)} ${height}Z`;
}

/** Drops points that fall on the same tenth of a pixel as the one before. */
function thin(points: readonly string[]): string[] {
  return points.filter((point, index) => point !== points[index - 1]);
}

/** How sure it is that work may go on: maybe = 10 to 50 %, likely = 50 to 90 %, sure = over 90 % that it has opened and not closed. */
export type Sureness = 'maybe' | 'likely' | 'sure';

export interface WindowPart extends Span {
  readonly sureness: Sureness;
}

/**
 * A window in parts from its first soft edge to its last: maybe from the 10 % time of opening, likely between the likely
 * times, sure where even a late opening is over and an early close still ahead. A window without a close runs to `end`.
 */
export function windowParts({ opens, closes }: WorkWindow, end: number): WindowPart[] {
  const [early, likely, late] = [opens.early, opens.likely, opens.late].map((iso) => Date.parse(iso)) as [
    number,
    number,
    number,
  ];
  const shut = closes
    ? [closes.early, closes.likely, closes.late].map((iso) => Date.parse(iso))
    : [end, end, end];
  const [shutEarly, shutLikely, shutLate] = shut as [number, number, number];
  const meet = Math.max(likely, shutLikely);
  const sureFrom = Math.min(late, meet);
  const sureTo = Math.max(sureFrom, Math.min(shutEarly, meet));
  const parts: WindowPart[] = [
    { sureness: 'maybe', from: early, to: likely },
    { sureness: 'likely', from: likely, to: sureFrom },
    { sureness: 'sure', from: sureFrom, to: sureTo },
    { sureness: 'likely', from: sureTo, to: meet },
    { sureness: 'maybe', from: meet, to: Math.max(meet, shutLate) },
  ];
  return parts.filter((part) => part.to > part.from);
}

/** From when to when a window is drawn, soft edges and all. */
export function windowReach(parts: readonly WindowPart[]): Span | null {
  const first = parts[0];
  const last = parts.at(-1);
  return first && last ? { from: first.from, to: last.to } : null;
}

export interface Tick {
  at: number;
  x: number;
  /** Local hour of the day, 0 to 23. */
  hour: number;
}

const clocks = new Map<string, Intl.DateTimeFormat>();

/** Local hour and minute of a moment in a time zone. */
export function localClock(moment: number, timeZone: string): { hour: number; minute: number } {
  const options = { timeZone, hour: '2-digit', minute: '2-digit', hourCycle: 'h23' } as const;
  const clock = clocks.get(timeZone) ?? new Intl.DateTimeFormat('en-GB', options);
  clocks.set(timeZone, clock);
  const parts = clock.formatToParts(moment);
  const read = (type: string) => Number(parts.find((part) => part.type === type)?.value ?? 0);
  return { hour: read('hour'), minute: read('minute') };
}

/** Hour marks on whole local hours of the job's zone, far enough apart to read (`room` px each). */
export function hourTicks(span: Span, width: number, timeZone: string, room = 56): Tick[] {
  const hours = (span.to - span.from) / HOUR_MS;
  if (!(hours > 0) || hours > 24 * 21) return [];
  const step = TICK_STEPS_H.find((candidate) => (width / hours) * candidate >= room) ?? 48;
  const first = span.from + ((60 - localClock(span.from, timeZone).minute) % 60) * 60_000;
  const whole = first - (first % 60_000);
  const ticks: Tick[] = [];
  for (let at = whole, index = 0; at <= span.to; at += HOUR_MS, index += 1) {
    const { hour } = localClock(at, timeZone);
    const due = step <= 24 ? hour % step === 0 : index % step === 0;
    if (at >= span.from && due) ticks.push({ at, x: placeTime(at, span, width), hour });
  }
  return ticks;
}

/** The marks that get a label: held inside the strip, `room` px from each other, and clear of the `taken` place. */
export function labelPlaces(ticks: readonly Tick[], width: number, taken: number | null, room = 44): Tick[] {
  let last = -Infinity;
  return ticks.flatMap((tick) => {
    const x = Math.min(width - room / 2, Math.max(room / 2, tick.x));
    if (x - last < room || (taken !== null && Math.abs(x - taken) < room)) return [];
    last = x;
    return [{ ...tick, x }];
  });
}
