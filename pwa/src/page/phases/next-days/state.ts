/** Saw, wash, colour, seal: what stands open and what is worth a word. SI; no DOM. */
import type { CutMade } from '../../../shared/events'
import type { JobView } from '../../../shared/job'
import type { WorkWindow } from '../../look/tide/window'
import { sawBeside } from '../../now/saw-close'
import { loadSaw, sawWindow } from '../../now/saw-window'
import { sharedLength } from '../../plan/bays'
import type { Reminder, Timeline } from '../../sync/contract'
import { putOff, putOffUntil, stillCounts } from '../../sync/put-off'
import { jointGuidance } from '../layout/take-off'

export interface SawReading {
  readonly cut_m: number
  /** What is to be cut: the planned cuts, else as the foreman said, else the lines between bays; null when none is known. */
  readonly planned_m: number | null
  readonly left_m: number | null
  readonly done: boolean
  readonly ravelled: boolean
}

export function readSaw(job: JobView): SawReading {
  const between = job.slab && job.bays.length > 1 ? sharedLength(job.bays.map((bay) => bay.corners), job.slab.corners) : null
  const drawn = job.planned_cuts.length ? job.planned_cuts.reduce((sum, cut) => sum + cut.length_m, 0) : null
  const planned_m = drawn ?? job.crew?.saw_length_m ?? between
  return {
    cut_m: job.cut_length_m,
    planned_m,
    left_m: planned_m === null ? null : Math.max(0, planned_m - job.cut_length_m),
    done: job.cuts_done,
    ravelled: job.cuts.some((cut) => cut.ravelled === true),
  }
}

export interface CutDraft {
  readonly length_m: number | null
  readonly depth_m: number | null
  readonly saw: CutMade['saw']
  readonly ravelled: boolean
}

/** A fresh cut: the depth and the saw as last time, else the guide depth and the saw of the plan. */
export function freshCut(job: JobView): CutDraft {
  const last = job.cuts[job.cuts.length - 1]
  const saw = last?.saw ?? job.crew?.saw_kind ?? 'conventional'
  return { length_m: null, depth_m: last?.depth_m ?? guideDepth(job, saw), saw, ravelled: false }
}

export function guideDepth(job: Pick<JobView, 'slab'>, saw: CutMade['saw']): number | null {
  if (!job.slab) return null
  const guide = jointGuidance(job.slab.thickness_m)
  return saw === 'early-entry' ? guide.early_entry_depth_m : guide.depth_m
}

/** A cut shallower than the guide may not make the slab crack in it. */
export function tooShallow(draft: Pick<CutDraft, 'depth_m' | 'saw'>, job: Pick<JobView, 'slab'>): boolean {
  const guide = guideDepth(job, draft.saw)
  return draft.depth_m !== null && guide !== null && draft.depth_m < guide - 0.0005
}

export type CutFault = 'length' | 'through'

export function cutFault(draft: CutDraft, job: Pick<JobView, 'slab'>): CutFault | null {
  if (draft.length_m === null || !(draft.length_m > 0)) return 'length'
  return draft.depth_m !== null && job.slab && draft.depth_m >= job.slab.thickness_m ? 'through' : null
}

export interface SawWindow {
  /** Null: the whole slab, by practice, for want of times. */
  readonly load: string | null
  readonly window: WorkWindow
  /** The handbooks close it, sooner than our own times do. */
  readonly byHandbook: boolean
}

/** Saw windows by load, the first to close first; one for the whole slab where there are no times. */
export function sawWindows(job: Pick<JobView, 'loads' | 'unticketed' | 'crew'>, timeline: Timeline | null): SawWindow[] {
  const slab = timeline ? null : sawWindow(job, timeline)
  if (slab) return [{ load: null, window: slab, byHandbook: true }]
  const found = (timeline?.loads ?? []).flatMap((load) => {
    const window = loadSaw(load)
    return window ? [{ load: load.id, window, byHandbook: sawBeside(load)?.closes?.by === 'handbook' }] : []
  })
  return found.sort((a, b) => Date.parse((a.window.closes ?? a.window.opens).likely) - Date.parse((b.window.closes ?? b.window.opens).likely))
}

/** How long to leave concrete whose edges did not hold in a test cut [min]: common practice, no source. */
const WAIT_MIN = { clean: null, slight: 25, ravels: 60 } as const

/** When to try again after a test cut; null where its edges held. */
export function tryAgainAt(test: Pick<JobView['test_cuts'][number], 'result' | 'at'>): Date | null {
  const wait = WAIT_MIN[test.result]
  return wait === null ? null : new Date(Date.parse(test.at) + wait * 60_000)
}

const QUIET: ReadonlySet<Reminder['state']> = new Set(['cancelled', 'acknowledged'])

/** This job's reminders that someone should see, the soonest first. An acknowledgement on this phone counts at once. */
export function openReminders(reminders: readonly Reminder[], job: Pick<JobView, 'id' | 'acks' | 'snoozes'>, now: Date): Reminder[] {
  return reminders
    .filter((one) => one.job === job.id && !QUIET.has(one.state) && isTime(one, now) && !isTaken(one, job) && !putOff(one, job, now, reminders))
    .sort((a, b) => Date.parse(a.due) - Date.parse(b.due))
}

/** Someone has it in hand as it stands now, not as it stood before it moved. */
function isTaken(one: Reminder, { acks }: Pick<JobView, 'acks'>): boolean {
  const ack = (acks as Readonly<Record<string, { readonly at: string }>>)[one.id]
  return ack !== undefined && stillCounts(one, ack.at)
}

/** The server says so; without a signal, its time has come. What ran out asks no more; what never could be told is still to be seen. */
const isTime = ({ state, due, expires }: Reminder, now: Date): boolean =>
  state === 'missed' || ((state !== 'planned' || Date.parse(due) <= now.getTime()) && now.getTime() < Date.parse(expires))

export { putOff, putOffUntil }

/** What comes, the soonest first. Last calls and missed ones are left out: they come only if nobody sees the first. */
export function comingReminders(reminders: readonly Reminder[], job: Pick<JobView, 'id' | 'acks'>, now: Date): Reminder[] {
  return reminders
    .filter((one) => one.job === job.id && one.state === 'planned' && !isTaken(one, job) && Date.parse(one.due) > now.getTime() && (one.stage === 'heads_up' || one.stage === 'open'))
    .sort((a, b) => Date.parse(a.due) - Date.parse(b.due))
}

/** Seen by someone: may be taken back or looked up. */
export function seenReminders(reminders: readonly Reminder[], job: Pick<JobView, 'id' | 'acks'>): Reminder[] {
  const acked = job.acks as Readonly<Record<string, unknown>>
  return reminders.filter((one) => one.job === job.id && (one.state === 'acknowledged' || !!acked[one.id]))
}

/** The coat that comes next; null after the fourth. */
export function nextCoat(coats: readonly { readonly coat: number }[]): number | null {
  const next = Math.max(0, ...coats.map((one) => one.coat)) + 1
  return next <= 4 ? next : null
}

/** Sealer for one coat by what the label says a litre covers [l]; null where it says nothing. */
export function labelSealer_l(area_m2: number, job: Pick<JobView, 'products'>): number | null {
  const covers = job.products.seal?.coverage_m2_per_l
  return covers ? area_m2 / covers : null
}

/** Sealer per coat [l] for an area: 150 to 300 ft² per gallon (estimate; the product's sheet comes first). */
export function usualSealer_l(area_m2: number): readonly [number, number] {
  const m2PerLitre = (feet2PerGallon: number): number => (feet2PerGallon * 0.09290304) / 3.785411784
  return [area_m2 / m2PerLitre(300), area_m2 / m2PerLitre(150)]
}
