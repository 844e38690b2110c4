/** What form points, joints and level shots say. SI; no DOM. */
import { fallAwayPercent, belowPlane_m } from '../../../shared/slope'
import { NEEDS, slopePlane } from '../../../shared/checklists'
import type { FormPoint, JobView, Level, Slab } from '../../../shared/job'
import { sides } from '../../plan/geometry'

/** The next free label: P1, P2… */
export function nextLabel(points: readonly { readonly label: string }[]): string {
  const used = points.map((point) => /^P(\d+)$/.exec(point.label)?.[1]).filter((n) => n !== undefined)
  return `P${Math.max(0, ...used.map(Number)) + 1}`
}

export interface FormReading {
  /** Highest over lowest form top [m]; null with fewer than two heights. */
  readonly spread_m: number | null
  readonly highest: string | null
  readonly lowest: string | null
  /** Points where less depth is measured than the slab needs, by more than `THIN_M`. */
  readonly thin: readonly { readonly label: string; readonly depth_m: number }[]
  readonly loose: readonly string[]
}

/** A quarter inch of missing depth is worth a word (estimate). */
export const THIN_M = 0.0064

export function readForms(forms: readonly FormPoint[], thickness_m: number | null): FormReading {
  const heights = forms.filter((point) => point.height_m !== null).sort((a, b) => (a.height_m ?? 0) - (b.height_m ?? 0))
  const low = heights[0]
  const high = heights[heights.length - 1]
  const enough = heights.length > 1 && low && high
  return {
    spread_m: enough ? (high.height_m ?? 0) - (low.height_m ?? 0) : null,
    highest: enough ? high.label : null,
    lowest: enough ? low.label : null,
    thin: forms.flatMap(({ label, depth_m }) => (depth_m !== null && thickness_m !== null && depth_m < thickness_m - THIN_M ? [{ label, depth_m }] : [])),
    loose: forms.filter((point) => point.firm === false).map((point) => point.label),
  }
}

/** toward: water runs to the building. flat: under 1 %. slight: under the 2 % that codes ask beside a building. good: that or more. */
export type FallWord = 'toward' | 'flat' | 'slight' | 'good'

export function fallWord(percent: number): FallWord {
  if (percent < -0.05) return 'toward'
  if (percent < NEEDS.fall_percent - 1e-9) return 'flat'
  return percent < NEEDS.good_fall_percent - 1e-9 ? 'slight' : 'good'
}

/** 1:48, the most cross slope on an accessible route (2010 ADA Standards 403.3), [%]. */
export const ACCESSIBLE_MOST_PERCENT = 100 / 48

export interface SlopeReading {
  readonly fall_percent: number
  readonly direction_deg: number | null
  /** The side (from 0) the water leaves by; null when flat. */
  readonly toward: number | null
  readonly faces: readonly { readonly edge: number; readonly against: string; readonly percent: number; readonly word: FallWord }[]
  readonly low: readonly { readonly label: string; readonly below_m: number }[]
  readonly over_accessible: boolean
}

/** The slab's fall from its shots; null until there are enough of them, not all in one line. */
export function readSlope(job: JobView): SlopeReading | null {
  const plane = slopePlane(job)
  const { slab } = job
  if (!plane || !slab) return null
  const faces = slab.abutting.map(({ edge, against }) => {
    const percent = fallAwayPercent(plane, slab.corners, edge)
    return { edge, against, percent, word: fallWord(percent) }
  })
  return {
    fall_percent: plane.fall_percent,
    direction_deg: plane.direction_deg,
    toward: plane.direction_deg === null ? null : sideToward(slab, plane.direction_deg),
    faces,
    low: job.levels.flatMap((level) => lowSpot(level, belowPlane_m(plane, [level.spot[0], level.spot[1], level.reading_m]))),
    over_accessible: plane.fall_percent > ACCESSIBLE_MOST_PERCENT + 1e-9,
  }
}

function lowSpot({ label }: Level, below_m: number): { readonly label: string; readonly below_m: number }[] {
  return below_m > NEEDS.low_spot_m + 1e-9 ? [{ label, below_m }] : []
}

/** The side whose outward direction lies nearest to where the water runs. */
export function sideToward({ corners }: Pick<Slab, 'corners'>, direction_deg: number): number {
  const angle = (direction_deg * Math.PI) / 180
  const [dx, dy] = [Math.cos(angle), Math.sin(angle)]
  const turn = sides(corners).reduce((sum, [a, b]) => sum + a[0] * b[1] - b[0] * a[1], 0) > 0 ? 1 : -1
  const facing = sides(corners).map(([a, b]) => {
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1
    return (turn * ((b[1] - a[1]) * dx - (b[0] - a[0]) * dy)) / length
  })
  return facing.indexOf(Math.max(...facing))
}
