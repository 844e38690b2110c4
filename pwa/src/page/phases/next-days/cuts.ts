/** The plan of the cuts: where they go, in which order, and how it stands. SI; no DOM. */
import type { CutId } from '../../../shared/events'
import type { JobView } from '../../../shared/job'
import { contains, distance, sides, type Point, type Ring } from '../../plan/geometry'
import { longDirection } from '../../plan/split'
import type { CutAhead, SawPlan } from '../../sync/days'
import { ASPECT_MOST, jointGuidance } from '../layout/take-off'

export interface ProposedCut {
  readonly from: Point
  readonly to: Point
  /** Across the long way of the slab, or along it. */
  readonly way: 'across' | 'along'
}

const LEAST_CUT_M = 0.3
/** Panels are proposed at 30 times the thickness, between the 24 and 36 of the guides. */
const USUAL_SHARE = 30 / 36

/**
 * Cuts that part the slab into panels near square: lines at equal spacing across its long way, then along it.
 * The oldest concrete comes first; on concrete of one age the cuts that shorten the longest run come before those
 * that cross them, so that panels go square.
 */
export function proposeCuts(job: Pick<JobView, 'slab' | 'bays' | 'loads'>): ProposedCut[] {
  if (!job.slab) return []
  const outline = job.slab.corners
  const { direction, length_m, width_m } = longDirection(outline)
  const [lengthwise, widthwise] = panels(length_m, width_m, job.slab.thickness_m)
  const across = lines(outline, direction, lengthwise).map((cut) => ({ ...cut, way: 'across' as const }))
  const along = lines(outline, [-direction[1], direction[0]], widthwise).map((cut) => ({ ...cut, way: 'along' as const }))
  const age = (cut: ProposedCut): number => Math.min(...placedUnder(job, cut))
  const oldestFirst = (cuts: ProposedCut[]): ProposedCut[] => cuts.map((cut, i) => ({ cut, i })).sort((a, b) => compare(age(a.cut), age(b.cut)) || a.i - b.i).map(({ cut }) => cut)
  return [...oldestFirst(across), ...oldestFirst(along)]
}

const compare = (a: number, b: number): number => (a === b ? 0 : a < b ? -1 : 1)

/** How many panels the long way and the other: none over the spacing, none more slender than 1.5 to 1. */
export function panels(length_m: number, width_m: number, thickness_m: number): readonly [number, number] {
  const spacing_m = jointGuidance(thickness_m).spacing_most_m * USUAL_SHARE
  const widthwise = Math.max(1, Math.ceil(width_m / spacing_m - 1e-9))
  const panel_m = width_m / widthwise
  const lengthwise = Math.max(1, Math.ceil(length_m / Math.min(spacing_m, panel_m * ASPECT_MOST) - 1e-9))
  return [lengthwise, widthwise]
}

/** The parting lines of a ring into `count` strips of one width along `direction`, clipped to it. */
function lines(outline: Ring, direction: Point, count: number): { readonly from: Point; readonly to: Point }[] {
  const depths = outline.map((p) => p[0] * direction[0] + p[1] * direction[1])
  const [low, high] = [Math.min(...depths), Math.max(...depths)]
  return Array.from({ length: count - 1 }, (_, i) => low + ((high - low) * (i + 1)) / count).flatMap((offset_m) => chords(outline, direction, offset_m))
}

/** What of the line `normal · p = offset` lies inside the ring. */
export function chords(outline: Ring, normal: Point, offset_m: number): { readonly from: Point; readonly to: Point }[] {
  const depth = (p: Point): number => p[0] * normal[0] + p[1] * normal[1] - offset_m
  const along = (p: Point): number => -normal[1] * p[0] + normal[0] * p[1]
  const met = sides(outline)
    .filter(([a, b]) => depth(a) >= 0 !== depth(b) >= 0)
    .map(([a, b]): Point => {
      const share = depth(a) / (depth(a) - depth(b))
      return [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])]
    })
    .sort((a, b) => along(a) - along(b))
  const found: { readonly from: Point; readonly to: Point }[] = []
  for (let i = 0; i + 1 < met.length; i += 2) {
    const [from, to] = [met[i], met[i + 1]]
    if (from && to && distance(from, to) >= LEAST_CUT_M) found.push({ from: millimetres(from), to: millimetres(to) })
  }
  return found
}

const millimetres = ([x, y]: Point): Point => [Math.round(x * 1000) / 1000, Math.round(y * 1000) / 1000]

const BESIDE_M = 0.05

/** When the concrete on either side of a cut was placed [ms]; not yet, or in no bay, counts as the youngest. */
function placedUnder(job: Pick<JobView, 'bays' | 'loads'>, { from, to }: ProposedCut): number[] {
  const long = distance(from, to) || 1
  const [nx, ny] = [(-(to[1] - from[1]) / long) * BESIDE_M, ((to[0] - from[0]) / long) * BESIDE_M]
  const spots = [0.1, 0.3, 0.5, 0.7, 0.9].flatMap((share) => [-1, 1].map((side): Point => [from[0] + (to[0] - from[0]) * share + side * nx, from[1] + (to[1] - from[1]) * share + side * ny]))
  const loads = job.bays.filter((bay) => spots.some((spot) => contains(bay.corners, spot))).map((bay) => bay.load)
  const placed = job.loads.filter((load) => loads.includes(load.id)).map((load) => Date.parse(load.placed?.to ?? load.batched_at))
  return placed.length ? placed : [Infinity]
}

export interface CutLine {
  readonly id: CutId
  readonly number: number
  readonly from: Point
  readonly to: Point
  readonly length_m: number
  readonly made: JobView['planned_cuts'][number]['made']
  readonly ahead: CutAhead | null
}

/** The planned cuts in order, each beside what the engine says of it. */
export function cutLines(job: Pick<JobView, 'planned_cuts'>, plan: SawPlan | null | undefined): CutLine[] {
  return job.planned_cuts.map((cut, i) => ({
    id: cut.id,
    number: i + 1,
    from: cut.from,
    to: cut.to,
    length_m: cut.length_m,
    made: cut.made,
    ahead: plan?.cuts.find((one) => one.id === cut.id) ?? null,
  }))
}

/** Orders for two neighbours to change places; null at the end of the list. */
export function swapped(cuts: JobView['planned_cuts'], id: CutId, ways: -1 | 1): readonly [JobView['planned_cuts'][number], JobView['planned_cuts'][number]] | null {
  const at = cuts.findIndex((cut) => cut.id === id)
  const [one, other] = [cuts[at], cuts[at + ways]]
  return one && other ? [one, other] : null
}

/** The order of a cut added at the end. */
export function nextOrder(cuts: JobView['planned_cuts']): number {
  return Math.min(1000, Math.max(0, ...cuts.map((cut) => cut.order)) + 1)
}
