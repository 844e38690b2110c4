import type { JobView } from '../../shared/job';
import type { Timeline, Warning } from '../sync/contract';
import { loadNumber } from './tasks';

export interface Gathered {
  readonly warning: Warning;
  /** Numbers of the loads it concerns; empty = the whole pour. */
  readonly loads: readonly number[];
}

const HOUR_MS = 3_600_000;
/** How far ahead a notice is worth the room on the first screen. */
const AHEAD_MS = 6 * HOUR_MS;
/** What the night brings is told while blankets can still be fetched. */
const NIGHT: readonly string[] = ['first_night_drop', 'frost_on_placed'];
const NIGHT_AHEAD_MS = 18 * HOUR_MS;

/** The engine's notices, the same one for several loads told once. With `now`: only those that hold now or within six hours. */
export function gatherNotices(job: JobView, timeline: Timeline, now: Date | null): Gathered[] {
  const found = new Map<string, { warning: Warning; loads: number[] }>();
  for (const warning of timeline.warnings) {
    if (now && !isNear(warning, now)) continue;
    const key = `${warning.code}/${warning.text}`;
    const seen = found.get(key);
    const index = timeline.loads.findIndex((load) => load.id === warning.load);
    const loads = warning.load === null ? [] : [loadNumber(job, warning.load, Math.max(0, index))];
    if (seen)
      found.set(key, {
        warning: spanOf(seen.warning, warning),
        loads: [...new Set([...seen.loads, ...loads])],
      });
    else found.set(key, { warning, loads });
  }
  return [...found.values()];
}

function isNear(warning: Warning, now: Date): boolean {
  return Date.parse(warning.to) >= now.getTime() && Date.parse(warning.from) <= now.getTime() + (NIGHT.includes(warning.code) ? NIGHT_AHEAD_MS : AHEAD_MS);
}

/** The first notice, over the time of both. */
function spanOf(one: Warning, other: Warning): Warning {
  const from = Date.parse(other.from) < Date.parse(one.from) ? other.from : one.from;
  const to = Date.parse(other.to) > Date.parse(one.to) ? other.to : one.to;
  return { ...one, from, to };
}
