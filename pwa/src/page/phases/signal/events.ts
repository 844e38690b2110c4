/** What a bay's clock has to say out loud: its window opens, it is closing, its release has dried off before the mats. SI; no DOM. */
import type { Bay, JobView, Load } from '../../../shared/job'
import { releaseKind } from '../../../shared/release'
import { closingFrom } from '../../look/tide/window'
import type { CurvePoint, Timeline, TimeWindow } from '../../sync/contract'

export type SignalWhat = 'opens' | 'closing' | 'dry'

export interface Signal {
  /** The same for the same bay and event, also after the times moved: each is told once. Release laid again is a new event. */
  readonly id: string
  readonly job: JobView['id']
  readonly what: SignalWhat
  readonly bay: string | null
  readonly load: number
  /** When it became true. */
  readonly at: Date
  /** Likely end of the window, for the words. */
  readonly closes: Date
}

const HOUR_MS = 3_600_000
/** Liquid release is gone when so much has dried off [kg/m²]: a gallon on 200 ft² (EST, the engine's own; the product's sheet comes first). */
export const RELEASE_FILM_KG_M2 = 0.2
/** That release has dried off is worth saying for so long. */
const DRY_STANDS_MS = HOUR_MS

/** All that is true right now for this job, the oldest first. Planned loads say nothing. */
export function signalsNow(job: JobView, timeline: Timeline | null, now: Date): Signal[] {
  if (job.closed || !timeline || timeline.planned) return []
  return job.loads
    .filter((load) => load.placed)
    .flatMap((load) => ofLoad(job, load, timeline, now))
    .sort((a, b) => a.at.getTime() - b.at.getTime())
}

function ofLoad(job: JobView, load: Load, timeline: Timeline, now: Date): Signal[] {
  const told = timeline.loads.find((one) => one.id === load.id)
  const window = told?.windows.texture
  if (!told || !window?.closes) return []
  const bays = job.bays.filter((bay) => bay.load === load.id)
  const subjects: (Bay | null)[] = bays.length > 0 ? [...bays] : [null]
  return subjects.flatMap((bay) => ofBay(job, load, bay, window, told.curve, now))
}

function ofBay(job: JobView, load: Load, bay: Bay | null, window: TimeWindow, curve: readonly CurvePoint[], now: Date): Signal[] {
  if (bay?.steps.texture?.end) return []
  const closes = Date.parse((window.closes ?? window.opens).likely)
  const closing = closingFrom(window)
  const begun = Boolean(bay?.steps.texture?.start)
  const dry = bay && !begun ? releaseDry(bay, curve, job.bays) : null
  const spans: readonly (readonly [SignalWhat, from: number, to: number])[] = [
    ['opens', begun ? Infinity : Date.parse(window.opens.likely), closing],
    ['dry', dry ?? Infinity, Math.min(closes, (dry ?? 0) + DRY_STANDS_MS)],
    ['closing', closing, closes],
  ]
  return spans
    .filter(([, from, to]) => from <= now.getTime() && now.getTime() < to)
    .map(([what, from]) => ({ id: `${job.id}/${bay?.id ?? load.id}/${what === 'dry' ? `dry/${bay?.release_at}` : what}`, job: job.id, what, bay: bay?.label ?? null, load: load.number, at: new Date(from), closes: new Date(closes) }))
}

const WAITS_LEAST: readonly SignalWhat[] = ['closing', 'opens', 'dry']

/** The one that waits least first; of the same kind, the one whose window ends first. */
export function byUrgency(signals: readonly Signal[]): Signal[] {
  return [...signals].sort((a, b) => WAITS_LEAST.indexOf(a.what) - WAITS_LEAST.indexOf(b.what) || a.closes.getTime() - b.closes.getTime())
}

type Laid = Pick<Bay, 'release' | 'release_at'>

/** When liquid release laid on a bay has dried off [ms]; null where none is laid, where it is powder, and past the curve. Where nobody said which, it is as on the job's other bays. */
export function releaseDry(bay: Laid, curve: readonly CurvePoint[], bays: readonly Laid[] = []): number | null {
  if (bay.release_at === null || releaseKind(bay, bays) === 'powder') return null
  return driedAt(curve, Date.parse(bay.release_at), RELEASE_FILM_KG_M2)
}

/** When so much, laid at `from_ms`, has left at the curve's rate of evaporation [ms]. */
export function driedAt(curve: readonly CurvePoint[], from_ms: number, water_kg_m2: number): number | null {
  let left = water_kg_m2
  for (const [i, point] of curve.entries()) {
    const next = curve[i + 1]
    if (!next) break
    const start = Math.max(from_ms, Date.parse(point.at))
    const hours = (Date.parse(next.at) - start) / HOUR_MS
    const rate = point.evaporation_kg_m2_h
    if (hours <= 0 || (i === 0 && from_ms < start)) continue
    if (rate * hours >= left) return start + (left / rate) * HOUR_MS
    left -= rate * hours
  }
  return null
}
