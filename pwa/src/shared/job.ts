/** A job's state read as a `JobView`: typed, joined and measured. */
import { FIELDS, LIMITS, RULES, type Kind, type PlannedDay, type SlabOutlined } from './events'
import { sectionsOf, type Entry, type JobState, type Section } from './fold'
import type * as model from './model'
import { area_m2, perimeter_m } from './polygon'

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
  const bays = baysOf(section('bays'), section('release'))
  const placed = placedIn(section('loads'))
  const loads = loadsOf(section('loads'), placed, bays, slab)
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
    checks: items<model.Check>(state, 'checks'),
    weather_days: weatherDaysOf(top.get('weather')),
    weather_notes: items<model.WeatherNote>(state, 'weather_notes'),
    ticks: ticksOf(section('ticks')),
    forms: pointsOf(section('forms')) as readonly model.FormPoint[],
    joints: jointsOf(section('joints')),
    levels: pointsOf(section('levels')) as readonly model.Level[],
    pins: pinsOf(section('pins')),
    photos: items<model.Photo>(state, 'photos'),
    cuts,
    cut_length_m: cuts.reduce((sum, cut) => sum + cut.length_m, 0),
    cuts_done: cuts.some((cut) => cut.last === true),
    washes: items<model.Wash>(state, 'washes'),
    colours: items<model.Colour>(state, 'colours'),
    coats: items<model.Coat>(state, 'coats'),
    acks: acksOf(section('acks')),
    snoozes: snoozesOf(section('snoozes')),
    notes: items<model.Note>(state, 'notes'),
    closed: one<model.Closed>(top.get('closed')),
  }
  return { ...facts, phase: phaseOf(top.get('stage'), facts) }
}

const EMPTY: Section = new Map()

interface Keyed {
  readonly key: readonly string[]
  readonly entry: Entry
}

function keyed(section: Section): Keyed[] {
  return Array.from(section, ([rest, entry]) => ({ key: rest.split('/'), entry }))
}

/** Reads a section once: while it stays the same object, so does what was read of it. */
function once<Reading>(read: (section: Section) => Reading): (section: Section) => Reading {
  const known = new WeakMap<Section, { readonly reading: Reading }>()
  return (section) => {
    const kept = known.get(section) ?? { reading: read(section) }
    known.set(section, kept)
    return kept.reading
  }
}

function inClockOrder(group: readonly Keyed[]): Keyed[] {
  return [...group].sort(({ entry: a }, { entry: b }) =>
    a.clock < b.clock || (a.clock === b.clock && a.event < b.event) ? -1 : 1,
  )
}

const leaves = new WeakMap<Entry, object>()

/** What a kind's leaf holds: the body's fields, without those its key is made of. */
const leafFields = new Map<string, readonly string[]>()
for (const kind of Object.keys(FIELDS) as Kind[]) {
  const rule = RULES[kind]
  leafFields.set(kind, FIELDS[kind].filter((name) => !('set' in rule && rule.set.includes(`{${name}}`))))
}

/** A leaf: the body with null for what was left out, where it came from, and more. The same object for the same entry. */
function leaf<L extends model.Leaf>(entry: Entry, more?: Partial<L>): L {
  const known = leaves.get(entry)
  if (known) return known as L
  const body = entry.body as Record<string, unknown>
  const made: Record<string, unknown> = { event: entry.event, at: entry.at, author: entry.author, ...more }
  for (const name of leafFields.get(entry.kind) ?? []) made[name] = body[name] ?? null
  leaves.set(entry, made)
  return made as unknown as L
}

function one<L extends model.Leaf>(entry: Entry | undefined): L | null {
  return entry ? leaf<L>(entry) : null
}

function items<L extends model.Leaf>(state: JobState, collection: string): readonly L[] {
  return (state.items[collection] ?? []).map((entry) => leaf<L>(entry))
}

const pointsOf = once((section): readonly (model.FormPoint | model.Level)[] =>
  inClockOrder(keyed(section)).map(({ key, entry }) => leaf<model.Level>(entry, { id: key[0] as model.Level['id'] })),
)

function slabOf(entry: Entry | undefined): model.Slab | null {
  if (!entry) return null
  const { corners, thickness_m } = entry.body as SlabOutlined
  const area = area_m2(corners)
  return { ...leaf<model.Slab>(entry), area_m2: area, perimeter_m: perimeter_m(corners), volume_m3: area * thickness_m }
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

function baysOf(section: Section, release: Section): readonly model.Bay[] {
  const { steps, drawn } = drawnAndWorked(section)
  return drawn
    .map(({ key: [bay = ''], entry }) => bayOf(entry, bay, steps.get(bay) ?? {}, one<model.Release>(release.get(bay))))
    .sort((a, b) => a.order - b.order || (a.id < b.id ? -1 : 1))
}

function bayOf(entry: Entry, id: string, steps: Steps, release: model.Release | null): model.Bay {
  const drawn = leaf<model.Bay>(entry)
  const laid = release ?? steps.release?.end ?? null
  return { ...drawn, id: id as model.Bay['id'], area_m2: area_m2(drawn.corners), steps, release, release_at: laid?.at ?? null }
}

type PlacedLoads = ReadonlyMap<string, model.Placed>

const placedIn = once((section): PlacedLoads => {
  const placed = inClockOrder(keyed(section).filter(({ key }) => key[1] === 'placed'))
  return new Map(placed.map(({ key, entry }) => [key[0] ?? '', leaf<model.Placed>(entry)]))
})

function loadsOf(section: Section, placed: PlacedLoads, bays: readonly model.Bay[], slab: model.Slab | null): readonly model.Load[] {
  const areas = new Map<string, number>()
  for (const bay of bays) if (bay.load) areas.set(bay.load, (areas.get(bay.load) ?? 0) + bay.area_m2)
  return keyed(section)
    .filter(({ key }) => key[1] === 'ticket')
    .map(({ key: [id = ''], entry }) => {
      const ticket = leaf<model.Load>(entry)
      const poured = placed.get(id) ?? null
      const byVolume = slab ? ticket.volume_m3 / slab.thickness_m : null
      const area = areas.get(id) ?? poured?.area_m2 ?? byVolume
      return { ...ticket, id: id as model.Load['id'], placed: poured, area_m2: area }
    })
    .sort((a, b) => a.number - b.number || (a.id < b.id ? -1 : 1))
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
  const all = keyed(section)
  const shut = all.filter(({ key }) => key[1] === 'closed')
  const closed = new Map(shut.map(({ key, entry }) => [key[0], leaf<model.PinClosed>(entry)]))
  return inClockOrder(all.filter(({ key }) => key[1] === 'dropped')).map(({ key, entry }) => {
    const open = leaf<model.Pin>(entry, { id: key[0] as model.Pin['id'], open: true, closed: null })
    const how = closed.get(key[0])
    return how ? { ...open, open: false, closed: how } : open
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
