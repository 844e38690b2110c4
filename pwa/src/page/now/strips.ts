import type { JobView } from '../../shared/job';
import { penetrationLevel, strengthLevel, type LevelPoint } from '../look/tide/state';
import type { TideRow } from '../look/tide/TideStrip';
import type { WorkWindow } from '../look/tide/window';
import type { CurvePoint, LoadTimeline, Reminder, Timeline, WindowName } from '../sync/contract';
import { loadSaw, sawWindow } from './saw-window';
import { dayWork, handWork, loadNumber } from './tasks';

export interface Strip {
  readonly rows: readonly TideRow[];
  readonly from: Date;
  readonly to: Date;
}

const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;
/** Strength a slab is taken to be ordered at when its mix is not known [MPa]: 4,000 psi. */
const USUAL_DESIGN_MPA = 27.6;

/** How a row is named: the words come from the caller, so that this file needs none. */
export type NameRow = (work: WindowName, load: number | null) => string;

export const surfaceCurve = (curve: readonly CurvePoint[]): LevelPoint[] =>
  curve.map((point) => ({ at: point.at, level: penetrationLevel(point.penetration_mpa) }));

export const strengthCurve = (curve: readonly CurvePoint[], design_mpa: number): LevelPoint[] =>
  curve.map((point) => ({ at: point.at, level: strengthLevel(point.strength_mpa, design_mpa) }));

/** Edge and texture of each load, over the hours of the pour; `all` shows also what is done. Null when there is nothing to show. */
export function handStrip(
  job: JobView,
  timeline: Timeline,
  now: Date,
  name: NameRow,
  all = false,
): Strip | null {
  const rows = timeline.loads.flatMap((load, index) => {
    const done = handWork(job, load.id);
    const number = loadNumber(job, load.id, index);
    const curve = surfaceCurve(load.curve);
    return (['edge', 'texture'] as const)
      .filter((work) => all || !done[work])
      .map((work): TideRow => ({
        id: `${load.id}-${work}`,
        label: name(work, number),
        window: load.windows[work] ?? null,
        curve,
      }));
  });
  return spanRows(rows, now, { least: 4 * HOUR_MS, most: 16 * HOUR_MS });
}

/** The saw window of the whole slab, or of each load with `all`. Null when all cuts are made or no window is known. */
export function sawStrip(
  job: JobView,
  timeline: Timeline,
  now: Date,
  name: NameRow,
  all = false,
): Strip | null {
  const design = job.mix?.design_strength_mpa ?? USUAL_DESIGN_MPA;
  if (job.cuts_done && !all) return null;
  if (all) {
    const rows = timeline.loads.map((load, index) => ({
      id: `${load.id}-saw`,
      label: name('saw', loadNumber(job, load.id, index)),
      window: loadSaw(load),
      curve: strengthCurve(load.curve, design),
    }));
    return spanRows(rows, now, { least: 12 * HOUR_MS, most: 72 * HOUR_MS });
  }
  const window = sawWindow(job, timeline);
  const load = firstToClose(timeline.loads);
  if (!window || !load) return null;
  const row = { id: 'saw', label: name('saw', null), window, curve: strengthCurve(load.curve, design) };
  return spanRows([row], now, { least: 12 * HOUR_MS, most: 72 * HOUR_MS });
}

/** Wash, second color and seal over the days: the windows the reminders go by, else the engine's own for the last load. */
export function dayStrip(
  job: JobView,
  timeline: Timeline,
  reminders: readonly Reminder[],
  now: Date,
  name: NameRow,
): Strip | null {
  const design = job.mix?.design_strength_mpa ?? USUAL_DESIGN_MPA;
  const last = timeline.loads.at(-1);
  if (!last) return null;
  const curve = strengthCurve(last.curve, design);
  const told = dayWork(job, reminders);
  const rows = (['wash', 'colour', 'seal'] as const).flatMap((work) => {
    const window = told.find((one) => one.reminder.what === work)?.reminder ?? last.windows[work];
    return window ? [{ id: work, label: name(work, null), window, curve }] : [];
  });
  return spanRows(rows, now, { least: 24 * HOUR_MS, most: 144 * HOUR_MS });
}

function firstToClose(loads: readonly LoadTimeline[]): LoadTimeline | undefined {
  const closes = (load: LoadTimeline) => Date.parse(loadSaw(load)?.closes?.likely ?? '') || Infinity;
  return [...loads].filter(loadSaw).sort((a, b) => closes(a) - closes(b))[0];
}

interface Reach {
  least: number;
  most: number;
}

/** How long after its last window closed a strip still reaches to `now`. */
const AFTER_MS = 2 * HOUR_MS;

/** The hours to show: from the first concrete to the last soft edge, `now` included while it is near. */
function spanRows(rows: readonly TideRow[], now: Date, { least, most }: Reach): Strip | null {
  const windows = rows.flatMap((row): WorkWindow[] => (row.window ? [row.window] : []));
  const starts = rows.flatMap((row) => (row.curve[0] ? [Date.parse(row.curve[0].at)] : []));
  if (rows.length === 0 || starts.length === 0) return null;
  const from = Math.min(...starts);
  const end = Math.max(
    from + least,
    ...windows.map((window) => Date.parse(window.closes?.late ?? window.opens.late)),
  );
  const near = now.getTime() > from && now.getTime() < end + AFTER_MS ? now.getTime() : from;
  const to = Math.max(end, near) + 30 * MINUTE_MS;
  return { rows, from: new Date(from), to: new Date(Math.min(to, from + most)) };
}
