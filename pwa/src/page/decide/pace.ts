// The race along the slab, read for a screen: when to start, where the crew is and should be, what would help. No DOM.
import type { JobView } from '../../shared/job';
import { releaseKind } from '../../shared/release';
import type { Timeline } from '../sync/contract';
import { paceOf, type Pace, type PaceChange } from './contract';

const minuteMs = 60_000;
const hourMs = 60 * minuteMs;
const nearMs = 4 * hourMs;
/** From this chance to miss on, it is said first. */
export const MISS_MATTERS = 0.1;
/** So long after the start planned on, it is said that no bay is marked as begun. */
const unmarkedMin = 10;
/** Minutes off the plan that are worth a word. */
const offPlanMin = 5;
/** The crew's pace is told apart from the one planned from so much on, once it was timed for so long. */
const offPace = 0.1;
const timedMin = 15;
/** Release that lasts longer needs no word. */
const releaseMatters = 60;

export type PaceView = {
  readonly pace: Pace;
  /** Start by here and every load is made, nine times in ten; null where nothing is that sure. */
  readonly startBy: string | null;
  /** Minutes the crew likely has in hand where it is tightest, less what has passed unused. */
  readonly spare: number;
  /** The load where it is tightest; null for the last one, the far end. */
  readonly tightest: string | null;
  readonly begun: boolean;
  /** Minutes since the start planned on with no bay marked; null before that and once one is. */
  readonly unmarked: number | null;
  /** The bays being textured. */
  readonly on: readonly string[];
  /** Minutes behind the plan (below zero ahead); null where it is on it, or not begun. */
  readonly behind: number | null;
  /** Share of the planned pace; null while it is about that, or not timed yet. */
  readonly speed: number | null;
  /** Where the crew should be now; null before the first load opens and after the last. */
  readonly here: string | null;
  /** Bays whose release has lain longer than it lasts, and for how long [min]. */
  readonly dried: readonly { readonly bay: string; readonly minutes: number }[];
  readonly releaseMatters: boolean;
  readonly helps: readonly PaceChange[];
};

type Job = Pick<JobView, 'bays' | 'loads' | 'unticketed'>;

/** The race while it is near or on; null hours before it, once every bay is textured, and where none is worked out. */
export function paceView(job: Job, timeline: Timeline | null | undefined, now: Date): PaceView | null {
  const pace = paceOf(timeline);
  const last = pace?.loads.at(-1);
  if (!pace || !last || job.loads.length + job.unticketed.length === 0) return null;
  if (job.bays.length > 0 && job.bays.every((bay) => bay.steps.texture?.end)) return null;
  const at = now.getTime();
  if (at < Date.parse(pace.start.ready_at) - nearMs || at > Date.parse(last.closes.late) + hourMs) return null;
  const by = pace.start.by?.early ?? null;
  const begun = pace.where.begun || job.bays.some((bay) => bay.steps.texture?.start);
  const waited = begun ? 0 : Math.max(0, (at - Date.parse(pace.start.ready_at)) / minuteMs);
  const tightest = pace.loads.reduce((least, load) => (load.slack_minutes.likely < least.slack_minutes.likely ? load : least), last);
  return {
    pace,
    startBy: by && Date.parse(by) >= Date.parse(pace.start.ready_at) ? by : null,
    spare: Math.round(tightest.slack_minutes.likely - waited),
    tightest: tightest.id === last.id ? null : tightest.id,
    begun,
    unmarked: !begun && waited >= unmarkedMin ? Math.round(waited) : null,
    on: job.bays.filter((bay) => bay.steps.texture?.start && !bay.steps.texture.end).map(({ label }) => label),
    behind: pace.where.begun && Math.abs(pace.where.behind_minutes) >= offPlanMin ? pace.where.behind_minutes : null,
    speed: pace.where.timed_minutes >= timedMin && Math.abs(pace.where.speed - 1) >= offPace ? pace.where.speed : null,
    here: pace.loads.find((load) => Date.parse(load.reached.likely) <= at && at < Date.parse(load.finished.likely))?.id ?? null,
    dried: driedRelease(job, pace.release.lasts_minutes, at),
    // powder on the bays laid so far: the next ones get the same
    releaseMatters: pace.release.lasts_minutes <= releaseMatters && releaseKind({ release: null }, job.bays) !== 'powder',
    helps: [...pace.changes].sort((a, b) => a.chance_to_miss_after - b.chance_to_miss_after || b.slack_minutes_gained - a.slack_minutes_gained),
  };
}

/** Bays with release on them, not textured yet, where it has lain longer than it lasts. */
function driedRelease(job: Job, lasts_minutes: number, at: number): PaceView['dried'] {
  return job.bays
    .filter((bay) => bay.release_at && !bay.steps.texture?.start && releaseKind(bay, job.bays) !== 'powder')
    .map((bay) => ({ bay: bay.label, minutes: Math.round((at - Date.parse(bay.release_at ?? '')) / minuteMs) }))
    .filter(({ minutes }) => minutes > lasts_minutes);
}
