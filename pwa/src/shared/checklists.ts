/** How far each of the six checklists is, counted from a job's view. The server's twin reads the same vectors. */
import type { EventId, Instant, PersonId } from './events'
import { tickKey, type Bay, type JobView, type Leaf, type ListName, type Pin } from './job'
import { CHECKLISTS, NEEDS, type Counted, type Item, type Per } from './lists'
import { belowPlane_m, fallAwayPercent, fitPlane, type Plane, type Shot } from './slope'

export { CHECKLISTS, NEEDS, type Counted, type Item, type Per }

/**
 * One thing to do: an item for the job (subject ''), a bay id or a side's number. `have` of `need` says how far it is;
 * `event`, `by` and `at` say who did it, when one event tells.
 */
export interface Row {
  readonly subject: string
  readonly done: boolean
  readonly have: number | null
  readonly need: number
  readonly event: EventId | null
  readonly by: PersonId | null
  readonly at: Instant | null
}

export interface ItemProgress {
  readonly item: string
  readonly per: Per
  readonly counted: Counted
  readonly done: number
  readonly total: number
  readonly rows: readonly Row[]
}

export interface Progress {
  readonly done: number
  readonly total: number
  readonly items: readonly ItemProgress[]
}

export const LISTS = Object.keys(CHECKLISTS) as readonly ListName[]

/** Every list, in the order of the trade. */
export function progress(view: JobView): Readonly<Record<ListName, Progress>> {
  return Object.fromEntries(LISTS.map((name) => [name, listProgress(view, name)])) as Record<ListName, Progress>
}

/** One list: rows done of rows in all, and its items. */
export function listProgress(view: JobView, name: ListName): Progress {
  const items = CHECKLISTS[name].map((item) => itemProgress(view, name, item))
  const sum = (of: 'done' | 'total'): number => items.reduce((total, item) => total + item[of], 0)
  return { done: sum('done'), total: sum('total'), items }
}

function itemProgress(view: JobView, name: ListName, item: Item): ItemProgress {
  const rows = item.counted === 'tick' ? ticked(view, name, item) : COUNTS[item.counted](view)
  const done = rows.filter((row) => row.done).length
  return { item: item.slug, per: item.per, counted: item.counted, done, total: rows.length, rows }
}

/** What an item is counted for: each bay ('' where none is drawn), each abutting side, or the job (''). */
export function subjects(view: JobView, per: Per): readonly string[] {
  if (per === 'bay' && view.bays.length > 0) return view.bays.map((bay) => bay.id)
  if (per === 'edge') return (view.slab?.abutting ?? []).map(({ edge }) => String(edge))
  return ['']
}

/** The sides that want an isolation joint: those against something, but for the ones cast bonded. */
export function isolatedSides(view: JobView): readonly string[] {
  return (view.slab?.abutting ?? []).filter(({ bonded }) => !bonded).map(({ edge }) => String(edge))
}

/** The plane through the job's level shots, once there are enough of them. */
export function slopePlane(view: JobView): Plane | null {
  return view.levels.length >= NEEDS.level_shots ? fitPlane(shotsOf(view)) : null
}

const ROUNDING = 1e-9
const NOBODY = { event: null, by: null, at: null } as const

function ticked(view: JobView, name: ListName, item: Item): Row[] {
  const byJoint = name === 'isolation' && item.per === 'edge'
  return (byJoint ? isolatedSides(view) : subjects(view, item.per)).map((subject) => {
    const tick = view.ticks[tickKey(name, item.slug, subject)]
    return told(subject, tick?.done === true, tick)
  })
}

/** A row that one event decides. */
function told(subject: string, done: boolean, leaf: Leaf | null | undefined): Row {
  const who = leaf ? { event: leaf.event, by: leaf.author, at: leaf.at } : NOBODY
  return { subject, done, have: done ? 1 : 0, need: 1, ...who }
}

function atLeast(have: number, need: number): Row[] {
  return [{ subject: '', done: have >= need, have, need, ...NOBODY }]
}

function joints(view: JobView, what: 'full_depth' | 'continuous'): Row[] {
  const checked = new Map(view.joints.map((joint) => [String(joint.edge), joint]))
  return isolatedSides(view).map((subject) => {
    const joint = checked.get(subject)
    return told(subject, joint?.[what] === true, joint)
  })
}

function shotsOf(view: JobView): Shot[] {
  return view.levels.map(({ spot: [x, y], reading_m }) => [x, y, reading_m])
}

/** Each abutting side; with none, the steepest fall anywhere. */
function fallAway(view: JobView): Row[] {
  const plane = slopePlane(view)
  const need = NEEDS.fall_percent
  const corners = view.slab?.corners
  const edges = subjects(view, 'edge')
  return (edges.length > 0 ? edges : ['']).map((subject) => {
    let have: number | null = null
    if (plane && corners && edges.length > 0) have = fallAwayPercent(plane, corners, Number(subject))
    else if (plane) have = plane.fall_percent
    return { subject, done: have !== null && have >= need - ROUNDING, have, need, ...NOBODY }
  })
}

/** Done when no shot lies deeper below the plane than allowed; `have` is the deepest [m]. */
function lowSpots(view: JobView): Row[] {
  const plane = slopePlane(view)
  const need = NEEDS.low_spot_m
  const have = plane ? Math.max(...shotsOf(view).map((shot) => belowPlane_m(plane, shot))) : null
  return [{ subject: '', done: have !== null && have <= need + ROUNDING, have, need, ...NOBODY }]
}

function pins(view: JobView, which: (pin: Pin) => boolean): Row[] {
  const found = view.pins.filter(which)
  return found.length > 0 ? atLeast(found.filter((pin) => !pin.open).length, found.length) : []
}

function byBay(view: JobView, toldBy: (bay: Bay) => Leaf | null | undefined): Row[] {
  return view.bays.map((bay) => {
    const leaf = toldBy(bay)
    return told(bay.id, leaf != null, leaf)
  })
}

const COUNTS: Readonly<Record<Exclude<Counted, 'tick'>, (view: JobView) => Row[]>> = {
  form_height: ({ forms }) => atLeast(forms.filter((point) => point.height_m !== null).length, NEEDS.form_points),
  form_depth: ({ forms }) => atLeast(forms.filter((point) => point.depth_m !== null).length, NEEDS.form_points),
  form_firm: ({ forms }) =>
    atLeast(forms.filter((point) => point.firm === true).length, Math.max(forms.length, NEEDS.form_points)),
  joint_full_depth: (view) => joints(view, 'full_depth'),
  joint_continuous: (view) => joints(view, 'continuous'),
  level_shots: ({ levels }) => atLeast(levels.length, NEEDS.level_shots),
  fall_away: fallAway,
  low_spots: lowSpots,
  debris_pins: (view) => pins(view, (pin) => pin.what === 'debris'),
  finish_pins: (view) => pins(view, (pin) => pin.what !== 'debris'),
  release_laid: (view) => byBay(view, (bay) => bay.release ?? bay.steps.release?.end),
  touch_up_done: (view) => byBay(view, (bay) => bay.steps.touch_up?.end),
}
