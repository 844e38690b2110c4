/** The hours of later work by day: which are fit, which are out and why. No DOM. */
import type { JobView } from '../../../shared/job'
import { localDay } from '../../look'
import type { DaysAhead, FitSlot, HoursOut, Work, WorkAhead } from '../../sync/days'
import type { Timeline } from '../../sync/contract'
import { instantOf } from '../wall-clock'

export interface Span {
  readonly from: Date
  readonly to: Date
  /** Null: fit. */
  readonly out: HoursOut | null
}

export interface DayRow {
  readonly day: string
  /** Its midnight, and the next. */
  readonly starts: Date
  readonly ends: Date
  readonly spans: readonly Span[]
  /** Fit hours. */
  readonly fit_h: number
}

const HOUR_MS = 3_600_000

/** Every local day the weather reaches, with its spans in order; a day the weather only touches at midnight is left out. */
export function dayRows(days: Pick<DaysAhead, 'from' | 'to'>, work: Pick<WorkAhead, 'hours_out'>, now: Date, timeZone: string): DayRow[] {
  const [from, to] = [Math.max(Date.parse(days.from), now.getTime()), Date.parse(days.to)]
  const spans = spansOf(from, to, work.hours_out)
  const rows: DayRow[] = []
  for (let starts = midnightOf(new Date(from), timeZone); starts.getTime() < to - HOUR_MS; ) {
    const ends = midnightOf(new Date(starts.getTime() + 36 * HOUR_MS), timeZone)
    const mine = spans.flatMap((span) => within(span, starts, ends))
    const fit_h = mine.filter((span) => !span.out).reduce((sum, span) => sum + (span.to.getTime() - span.from.getTime()) / HOUR_MS, 0)
    rows.push({ day: localDay(starts, timeZone), starts, ends, spans: mine, fit_h })
    starts = ends
  }
  return rows
}

function midnightOf(moment: Date, timeZone: string): Date {
  return instantOf(`${localDay(moment, timeZone)}T00:00`, timeZone) ?? moment
}

function spansOf(from: number, to: number, out: readonly HoursOut[]): Span[] {
  const found: Span[] = []
  let at = from
  const add = (until: number, run: HoursOut | null): void => {
    if (until > at) found.push({ from: new Date(at), to: new Date(until), out: run })
    at = Math.max(at, until)
  }
  for (const run of out) {
    // The hour under way has no verdict of its own: it goes with the run that follows it at once.
    const begins = Date.parse(run.from)
    if (begins - at >= HOUR_MS || found.length > 0) add(Math.min(begins, to), null)
    add(Math.min(Date.parse(run.to), to), run)
  }
  add(to, null)
  return found
}

function within(span: Span, starts: Date, ends: Date): Span[] {
  const from = new Date(Math.max(span.from.getTime(), starts.getTime()))
  const to = new Date(Math.min(span.to.getTime(), ends.getTime()))
  return to > from ? [{ from, to, out: span.out }] : []
}

/** What the engine says of one piece of work; null where it says nothing, or where it is done. */
export function workAhead(timeline: Timeline | null | undefined, work: Work, coat = 1): WorkAhead | null {
  return timeline?.days_ahead?.works.find((one) => one.work === work && one.coat === coat) ?? null
}

/** The slots that are not over, best first. */
export function slotsLeft(ahead: WorkAhead, now: Date): readonly FitSlot[] {
  return ahead.slots.filter((slot) => Date.parse(slot.to) > now.getTime())
}

/** The slot kept for a piece of work, as the log has it. */
export function keptOf(job: Pick<JobView, 'kept_slots'>, work: Work, coat: number): JobView['kept_slots'][number] | null {
  return job.kept_slots.find((one) => one.work === work && one.coat === coat) ?? null
}

/** Until the next coat may go on, and by when it must: minutes from now, null where nothing holds it. */
export function recoat(ahead: Pick<WorkAhead, 'after' | 'opens' | 'shuts'>, now: Date): { readonly from: Date | null; readonly minutes: number | null; readonly by: Date | null } | null {
  if (!ahead.after?.done || ahead.after.work !== 'seal') return null
  const from = ahead.opens ? new Date(ahead.opens) : null
  const minutes = from && from > now ? Math.ceil((from.getTime() - now.getTime()) / 60_000) : null
  return { from, minutes, by: ahead.shuts ? new Date(ahead.shuts) : null }
}
