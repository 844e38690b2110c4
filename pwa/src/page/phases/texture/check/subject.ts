/** What a surface check speaks of, before anyone has chosen: the concrete whose clock is nearest. No DOM. */
import type { Bay, JobView, Load } from '../../../../shared/job'
import { closingFrom } from '../../../look/tide/window'
import type { Timeline } from '../../../sync/contract'
import { textureWindow } from '../../bay-state'
import { loadOf } from '../state'

/** Concrete that may be checked: a bay with its load, or a load where no bay is drawn or filled. */
export interface Subject {
  readonly key: string
  readonly bay: Bay | null
  readonly load: Load
}

export function subjectsOf(job: Pick<JobView, 'bays' | 'loads'>): Subject[] {
  const bays = job.bays.flatMap((bay) => {
    const load = loadOf(job, bay.id)
    return load ? [{ key: bay.id, bay, load }] : []
  })
  const filled = new Set(bays.map(({ load }) => load.id))
  const loads = job.loads.filter((load) => !filled.has(load.id)).map((load) => ({ key: load.id, bay: null, load }))
  return [...bays, ...loads]
}

/**
 * The subject to begin with: not textured, and with the least time to its next turn (opening, closing, close).
 * Without times: the first untextured one that lies on the slab.
 */
export function nearest(subjects: readonly Subject[], timeline: Timeline | null, now: Date): Subject | null {
  const open = subjects.filter(({ bay }) => !bay?.steps.texture?.end)
  const placed = open.filter(({ load }) => load.placed)
  const pool = [placed, open, subjects].find((some) => some.length > 0) ?? []
  const timed = pool.map((subject) => ({ subject, wait: untilTurn(subject, timeline, now) }))
  return timed.reduce<(typeof timed)[number] | null>((best, one) => (!best || one.wait < best.wait ? one : best), null)?.subject ?? null
}

/** Minutes to what happens next to its texture window; a window that is past comes last. */
function untilTurn({ load }: Subject, timeline: Timeline | null, now: Date): number {
  const window = textureWindow(timeline, load.id)
  if (!window) return Infinity
  const turns = [Date.parse(window.opens.likely), ...(window.closes ? [closingFrom(window), Date.parse(window.closes.likely)] : [])]
  return Math.min(...turns.map((turn) => turn - now.getTime()).filter((wait) => wait > 0))
}
