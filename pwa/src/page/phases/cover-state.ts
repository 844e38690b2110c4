/** What lies over the slab: who may say so, when it was laid, what lies still. No DOM. */
import type { Cover, CoverKind, JobView } from '../../shared/job'
import { LIMITS } from '../../shared/events'

export const COVER_KINDS: readonly CoverKind[] = LIMITS['cover.laid'].cover_kind.options

/** How long ago it was done, on the keys [min]. */
export const AGO_MIN = [0, 15, 30, 60] as const

/** What lies now, the last laid first. */
export function lying(job: Pick<JobView, 'covers'>): Cover[] {
  return job.covers.filter((cover) => cover.lifted === null).toReversed()
}

/** What was lifted, the last lifted first. */
export function lifted(job: Pick<JobView, 'covers'>): Cover[] {
  const done = job.covers.filter((cover) => cover.lifted !== null)
  return done.sort((a, b) => Date.parse(b.lifted?.at ?? '') - Date.parse(a.lifted?.at ?? ''))
}

export type LiftFault = 'before_laying'

/** A cover can't be lifted before it was laid. */
export function liftFault(cover: Cover, at: Date): LiftFault | null {
  return at.getTime() < Date.parse(cover.laid.at) ? 'before_laying' : null
}

/** Whether a sheet or a wet cover over coloured concrete calls for a word: both mark it where they lie unevenly. */
export function marksColour(job: Pick<JobView, 'mix' | 'order'>, kind: CoverKind): boolean {
  return kind !== 'blanket' && Boolean(job.mix?.colour ?? job.order?.colour)
}
