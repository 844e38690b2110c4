/** A job's state read as a `JobView`: typed, joined and measured. */
import { LIMITS, type CoverLaid, type PlannedDay, type SlabOutlined } from './events'
import { sectionsOf, type Entry, type JobState, type Section } from './fold'
import { EMPTY, inClockOrder, items, keyed, leaf, once, one, trace } from './leaves'
import { endsOf, kept, mergedOf, ofKept, ofLoads, type Ends } from './merges'
import type * as model from './model'
import { cutLengthOf, keptSlotsOf, plannedCutsOf, productsOf } from './next-days'
import { area_m2, perimeter_m, reentrantCorners, shareOfSides } from './polygon'

export type * from './model'

export const PHASES: readonly model.Phase[] = LIMITS['stage.reached'].phase.options
export const STEPS: readonly model.StepName[] = LIMITS['bay.worked'].step.options

/** Where a tick stands in `JobView.ticks`. */
export function tickKey(list: model.ListName, item: string, subject = ''): string {
  return `${list}/${item}/${subject}`
}

/** The whole job, from its folded state. */
export function viewJob(state: JobState): model.JobView {
  const sections = sectionsOf(state)
  const section = (name: string): Section => sections.get(name) ?? EMPTY
  const top = section('')
  const opened = one<model.Opened>(top.get('job'))
  const slab = slabOf(top.get('slab'))
  const ends = endsOf(section('merges'), section('loads'))
  const bays = baysOf(section('bays'), section('release'), ends)
  const placed = placedIn(section('loads'), ends)
  const loads = loadsOf(section('loads'), placed, bays, slab, ends)
  const cuts = items<model.Cut>(state, 'cuts')
  const facts = {
    id: state.job,
    name: opened?.name ?? '',
    opened,
    slab,
    mix: one<model.Mix>(top.get('mix')),
    order: one<model.Order>(top.get('order')),
    crew: one<model.Crew>(top.get('crew')),
    bays,
    loads,
    unticketed: unticketedOf(placed, loads),
    merged: mergedOf(section('merges'), ends),
    covers: coversOf(section('covers'), ends),
    checks: ofKept(items<model.Check>(state, 'checks'), ends),
    weather_days: weatherDaysOf(top.get('weather')),
    weather_notes: items<model.WeatherNote>(state, 'weather_notes'),
    ticks: ticksOf(section('ticks')),
    forms: pointsOf(section('forms')) as readonly model.FormPoint[],
    joints: jointsOf(section('joints')),
    levels: pointsOf(section('levels')) as readonly model.Level[],
    pins: pinsOf(section('pins')),
    photos: items<model.Photo>(state, 'photos'),
    planned_cuts: plannedCutsOf(section('planned_cuts'), cuts, ends),
    test_cuts: ofKept(items<model.TestCut>(state, 'test_cuts'), ends),
    cuts,
    cut_length_m: cutLengthOf(cuts),
    cuts_done: cuts.some((cut) => cut.last === true),
    products: productsOf(section('products')),
    sheet_tests: items<model.SheetTest>(state, 'sheet_tests'),
    kept_slots: keptSlotsOf(section('slots')),
    washes: items<model.Wash>(state, 'washes'),
    colours: items<model.Colour>(state, 'colours'),
    coats: items<model.Coat>(state, 'coats'),
    acks: acksOf(section('acks')),
    snoozes: snoozesOf(section('snoozes')),
    notes: items<model.Note>(state, 'notes'),
    closed: one<model.Closed>(top.get('closed')),
    callbacks: items<model.Callback>(state, 'callbacks'),
    care: one<model.Care>(top.get('care')),
    aside: one<model.Aside>(top.get('aside')),
  }
  return { ...facts, phase: phaseOf(top.get('stage'), facts) }
}

const pointsOf = once((section): readonly (model.FormPoint | model.Level)[] =>
  inClockOrder(keyed(section)).map(({ key, entry }) => leaf<model.Level>(entry, { id: key[0] as model.Level['id'] })),
)

function slabOf(entry: Entry | undefined): model.Slab | null {
  if (!entry) return null
  const { corners, thickness_m } = entry.body as SlabOutlined
  const area = area_m2(corners)
  const abutting = abuttingOf(entry)
  const bonded = abutting.filter((side) => side.bonded).map((side) => side.edge)
  return {
    ...leaf<model.Slab>(entry),
    abutting,
    area_m2: area,
    perimeter_m: perimeter_m(corners),
    volume_m3: area * thickness_m,
    bonded_share: shareOfSides(corners, bonded),
    reentrant_corners: reentrantCorners(corners).length,
  }
}

const sides = new WeakMap<Entry, model.Slab['abutting']>()

/** The sides against something, each with all it can say. The same list for the same entry. */
function abuttingOf(entry: Entry): model.Slab['abutting'] {
  const { abutting } = entry.body as SlabOutlined
  const made = sides.get(entry) ?? abutting.map(({ edge, against, bonded }) => ({ edge, against, bonded: bonded ?? null }))
  sides.set(entry, made)
  return made
}

type Steps = Partial<Record<model.StepName, model.Step>>

const drawnAndWorked = once((section) => {
  const all = keyed(section)
  const steps = new Map<string, Steps>()
  for (const { key: [bay = '', step, mark], entry } of all) {
    if (!step || !mark) continue
    const ofBay = steps.get(bay) ?? {}
    const name = step as model.StepName
    steps.set(bay, { ...ofBay, [name]: { start: null, end: null, ...ofBay[name], [mark]: leaf<model.Mark>(entry) } })
  }
  return { steps, drawn: all.filter(({ key }) => key.length === 1) }
})

function baysOf(section: Section, release: Section, ends: Ends): readonly model.Bay[] {
  const { steps, drawn } = drawnAndWorked(section)
  return drawn
    .map(({ key: [bay = ''], entry }) => bayOf(entry, bay, steps.get(bay) ?? {}, one<model.Release>(release.get(bay)), ends))
    .sort((a, b) => a.order - b.order || (a.id < b.id ? -1 : 1))
}

function bayOf(entry: Entry, id: string, steps: Steps, release: model.Release | null, ends: Ends): model.Bay {
  const drawn = leaf<model.Bay>(entry)
  const laid = release ?? steps.release?.end ?? null
  const load = kept(drawn.load, ends)
  return { ...drawn, id: id as model.Bay['id'], load, area_m2: area_m2(drawn.corners), steps, release, release_at: laid?.at ?? null }
}

type PlacedLoads = ReadonlyMap<string, model.Placed>

function placedIn(section: Section, ends: Ends): PlacedLoads {
  return new Map(ofLoads(section, 'placed', ends).map(([load, entry]) => [load, leaf<model.Placed>(entry)]))
}

function loadsOf(section: Section, placed: PlacedLoads, bays: readonly model.Bay[], slab: model.Slab | null, ends: Ends): readonly model.Load[] {
  const areas = new Map<string, number>()
  for (const bay of bays) if (bay.load) areas.set(bay.load, (areas.get(bay.load) ?? 0) + bay.area_m2)
  return ofLoads(section, 'ticket', ends)
    .map(([id, entry]) => {
      const ticket = leaf<model.Load>(entry)
      const poured = placed.get(id) ?? null
      const byVolume = slab ? ticket.volume_m3 / slab.thickness_m : null
      const area = areas.get(id) ?? poured?.area_m2 ?? byVolume
      return { ...ticket, id: id as model.Load['id'], placed: poured, area_m2: area }
    })
    .sort((a, b) => a.number - b.number || (a.id < b.id ? -1 : 1))
}

function coversOf(section: Section, ends: Ends): readonly model.Cover[] {
  const all = keyed(section)
  const laid = inClockOrder(all.filter(({ key }) => key[1] === 'laid'))
  return laid.map(({ key: [id = ''], entry }) => {
    const { cover_kind, r_m2k_w, load } = entry.body as CoverLaid
    const lift = section.get(`${id}/lifted`)
    return {
      id: id as model.Cover['id'], kind: cover_kind, r_m2k_w: r_m2k_w ?? null, load: kept(load ?? null, ends),
      laid: trace(entry), lifted: lift ? trace(lift) : null,
    }
  })
}

function unticketedOf(placed: PlacedLoads, loads: readonly model.Load[]): readonly model.Unticketed[] {
  const ticketed = new Set<string>(loads.map((load) => load.id))
  return [...placed]
    .filter(([id]) => !ticketed.has(id))
    .map(([id, poured]) => ({ id: id as model.Load['id'], placed: poured }))
}

function weatherDaysOf(entry: Entry | undefined): readonly model.WeatherDay[] {
  if (!entry) return []
  const { event, at, author } = entry
  const days = (entry.body as { days: readonly PlannedDay[] }).days
  return days
    .map(({ date, low_c, high_c, rh, wind_kmh, cloud }) => ({ event, at, author, date, low_c, high_c, rh, wind_kmh, cloud }))
    .sort((a, b) => (a.date < b.date ? -1 : 1))
}

const ticksOf = once((section): Readonly<Record<string, model.Tick>> => {
  const ticks = Array.from(section, ([rest, entry]) => [rest, leaf<model.Tick>(entry, { by: entry.author })] as const)
  return Object.fromEntries(ticks)
})

const acksOf = once((section): Readonly<Record<string, model.Ack>> => {
  const acks = Array.from(section, ([rest, entry]) => [rest, leaf<model.Ack>(entry, { by: entry.author })] as const)
  return Object.fromEntries(acks)
})

const snoozesOf = once((section): Readonly<Record<string, model.Snooze>> => {
  const all = Array.from(section, ([rest, entry]) => [rest, leaf<model.Snooze>(entry, { by: entry.author })] as const)
  return Object.fromEntries(all)
})

const jointsOf = once((section): readonly model.Joint[] =>
  keyed(section)
    .map(({ key, entry }) => leaf<model.Joint>(entry, { edge: Number(key[0]) }))
    .sort((a, b) => a.edge - b.edge),
)

const pinsOf = once((section): readonly model.Pin[] => {
  const dropped = inClockOrder(keyed(section).filter(({ key }) => key[1] === 'dropped'))
  return dropped.map(({ key: [id = ''], entry }) => {
    const open = leaf<model.Pin>(entry, { id: id as model.Pin['id'], open: true, closed: null, owner: null })
    const closed = one<model.PinClosed>(section.get(`${id}/closed`))
    const given = one<model.PinOwner>(section.get(`${id}/owner`))
    const owner = given?.person ? given : null
    return closed || owner ? { ...open, open: !closed, closed, owner } : open
  })
})

type Facts = Omit<model.JobView, 'phase'>

/** The furthest of what was said (stage.reached) and what the facts imply. */
function phaseOf(stage: Entry | undefined, facts: Facts): model.Phase {
  const said = (stage?.body as { phase?: model.Phase } | undefined)?.phase
  const reached = [...implied(facts), ...(said ? [said] : [])].map((phase) => PHASES.indexOf(phase))
  return PHASES[Math.max(...reached)] ?? 'layout'
}

function implied(facts: Facts): model.Phase[] {
  const textured = facts.bays.map((bay) => bay.steps.texture)
  const after = [facts.cuts, facts.washes, facts.colours, facts.coats].some((done) => done.length > 0)
  const allTextured = textured.length > 0 && textured.every((step) => step?.end)
  const reached: model.Phase[] = ['layout']
  if (facts.order) reached.push('ready')
  if (facts.loads.length + facts.unticketed.length > 0) reached.push('pour')
  if (textured.some((step) => step?.start)) reached.push('texture')
  if (after || allTextured) reached.push('next_days')
  if (facts.closed) reached.push('record')
  return reached
}
