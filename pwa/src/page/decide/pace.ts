// The race along the slab, read for a screen: when to start, where the crew should be, what would help. No DOM.
import type { JobView } from '../../shared/job';
import type { Timeline } from '../sync/contract';
import { paceOf, type Pace, type PaceChange } from './contract';

const hourMs = 3_600_000;
const nearMs = 4 * hourMs;
/** From this chance to miss on, it is said first. */
export const MISS_MATTERS = 0.1;
const helpsBy = 0.02;

export type PaceView = {
  readonly pace: Pace;
  /** Start by here and every load is made, nine times in ten; null where nothing is that sure. */
  readonly startBy: string | null;
  /** Minutes the crew likely has in hand at the last load. */
  readonly spare: number;
  readonly begun: boolean;
  /** Where the crew should be now; null before the first load opens and after the last. */
  readonly here: string | null;
  readonly helps: readonly PaceChange[];
};

/** The race while it is near or on; null hours before it, once every bay is textured, and where none is worked out. */
export function paceView(job: Pick<JobView, 'bays' | 'loads' | 'unticketed'>, timeline: Timeline | null | undefined, now: Date): PaceView | null {
  const pace = paceOf(timeline);
  const last = pace?.loads.at(-1);
  if (!pace || !last || job.loads.length + job.unticketed.length === 0) return null;
  if (job.bays.length > 0 && job.bays.every((bay) => bay.steps.texture?.end)) return null;
  const at = now.getTime();
  if (at < Date.parse(pace.start.ready_at) - nearMs || at > Date.parse(last.closes.late) + hourMs) return null;
  const by = pace.start.by?.early ?? null;
  return {
    pace,
    startBy: by && Date.parse(by) >= Date.parse(pace.start.ready_at) ? by : null,
    spare: last.slack_minutes.likely,
    begun: job.bays.some((bay) => bay.steps.texture?.start),
    here: pace.loads.find((load) => Date.parse(load.reached.likely) <= at && at < Date.parse(load.finished.likely))?.id ?? null,
    helps: helping(pace),
  };
}

/** Levers that lessen the chance to miss, the best first. */
export function helping(pace: Pace): readonly PaceChange[] {
  if (pace.chance_to_miss < helpsBy) return [];
  return pace.changes
    .filter((change) => change.chance_to_miss_after <= pace.chance_to_miss - helpsBy)
    .sort((a, b) => a.chance_to_miss_after - b.chance_to_miss_after);
}
