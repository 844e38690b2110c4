// When the slab may be sawn and must be done, as the server's reminders and its board have it (slabtide.reminders.windows).
// Both sides read tests/vectors/saw_window.json. No DOM.
import type { JobView } from '../../shared/job';
import type { When, WorkWindow } from '../look/tide/window';
import type { LoadTimeline, Timeline } from '../sync/contract';

const HOUR_MS = 3_600_000;
/** However early the handbooks close, a saw is left this long (EST) [ms]. */
const LEAST_MS = 2 * HOUR_MS;
/** With no times at all: so long after the first load (ACI 302.1R-15, conventional saws) [ms]. */
const OPENS_MS = 4 * HOUR_MS;
const CLOSES_MS = 12 * HOUR_MS;
/** An early-entry saw is done in half the usual 18 h (EST) [ms]. */
const EARLY_ENTRY_CLOSES_MS = 9 * HOUR_MS;

const each = (whens: readonly When[], pick: (...times: number[]) => number, after_ms = 0): When => {
  const at = (name: keyof When) => new Date(pick(...whens.map((when) => Date.parse(when[name]))) + after_ms).toISOString();
  return { early: at('early'), likely: at('likely'), late: at('late') };
};
const first = (whens: readonly When[], after_ms = 0): When => each(whens, Math.min, after_ms);
const sure = (at: string): When => ({ early: at, likely: at, late: at });

/** One load's saw: ours opens it, whoever closes first closes it; the handbooks alone where ours names no window or no end. */
export function loadSaw({ windows: { saw }, saw_practice: handbook }: LoadTimeline): WorkWindow | null {
  const end = handbook && sure(handbook.closes);
  if (!saw) return end ? { opens: sure(handbook.opens), closes: end } : null;
  if (!end) return saw;
  const left = each([end, first([saw.opens], LEAST_MS)], Math.max);
  return { opens: saw.opens, closes: saw.closes ? first([saw.closes, left]) : left };
}

/** With no times at all: so long after the first load its saw is done [ms]. */
export const practiceCloses_ms = ({ crew }: Pick<JobView, 'crew'>): number => (crew?.saw_kind === 'early-entry' ? EARLY_ENTRY_CLOSES_MS : CLOSES_MS);

type Sawn = Pick<JobView, 'loads' | 'unticketed' | 'crew'>;

/** The whole slab's saw: open with the first load that opens, closed with the first that closes; by practice with no times. */
export function sawWindow({ loads, unticketed, crew }: Sawn, timeline: Timeline | null): WorkWindow | null {
  if (!timeline) return byPractice([...loads, ...unticketed], practiceCloses_ms({ crew }));
  const found = timeline.loads.flatMap((load) => loadSaw(load) ?? []);
  const ends = found.flatMap(({ closes }) => closes ?? []);
  return found[0] ? { opens: first(found.map(({ opens }) => opens)), closes: ends[0] ? first(ends) : null } : null;
}

type Placed = { readonly placed: { readonly to: string } | null; readonly batched_at?: string };

function byPractice(loads: readonly Placed[], closes_ms: number): WorkWindow | null {
  const placed = loads.map((load) => sure(load.placed?.to ?? load.batched_at ?? ''));
  return placed[0] ? { opens: first(placed, OPENS_MS), closes: first(placed, closes_ms) } : null;
}
