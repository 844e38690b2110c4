/** What the layout forms hold, where they start, and what they write. SI; no DOM. */
import type {
  BayDrawn, BayId, CrewAssigned, JobOpened, LoadId, OrderPlaced, PlannedDay, SlabOutlined, Spot,
} from '../../../shared/events'
import type { JobView } from '../../../shared/job'
import { draftBays, loadForStrip, type DraftBay } from '../../plan/bays'
import type { Ring } from '../../plan/geometry'
import { judgeOutline } from '../../plan/outline'
import { instantOf, wallDate, wallDateTime } from '../wall-clock'
import { SURFACE_COLOURS } from './take-off'

export interface JobDraft {
  readonly name: string
  readonly place: string
  readonly customer: string
  readonly latitude_deg: number | null
  readonly longitude_deg: number | null
  readonly time_zone: string
  readonly use: JobOpened['use']
}

export function jobDraft(opened: JobOpened | null | undefined, phoneZone: string): JobDraft {
  return {
    name: opened?.name ?? '',
    place: opened?.place ?? '',
    customer: opened?.customer ?? '',
    latitude_deg: opened?.latitude_deg ?? null,
    longitude_deg: opened?.longitude_deg ?? null,
    time_zone: opened?.time_zone ?? phoneZone,
    use: opened?.use ?? 'patio',
  }
}

export type JobFault = 'name' | 'position' | 'zone'

export function jobBody(draft: JobDraft): { readonly body: JobOpened } | { readonly fault: JobFault } {
  if (draft.name.trim() === '') return { fault: 'name' }
  if (draft.latitude_deg === null || draft.longitude_deg === null) return { fault: 'position' }
  if (!isTimeZone(draft.time_zone)) return { fault: 'zone' }
  const { name, place, customer, latitude_deg, longitude_deg, time_zone, use } = draft
  return { body: { name: name.trim(), place: textOrNull(place), customer: textOrNull(customer), latitude_deg, longitude_deg, time_zone, use } }
}

export function isTimeZone(name: string): boolean {
  try {
    return new Intl.DateTimeFormat('en', { timeZone: name }).resolvedOptions().timeZone !== '' && name !== ''
  } catch {
    return false
  }
}

export function textOrNull(text: string): string | null {
  return text.trim() === '' ? null : text.trim()
}

export interface SlabDraft {
  readonly corners: readonly Spot[]
  readonly abutting: SlabOutlined['abutting']
  readonly thickness_m: number
  readonly insulation_r_m2k_w: number
  readonly ground_temp_c: number
  readonly solar_absorptivity: number
  readonly uncut_length_m: number | null
  readonly shade: number | null
  readonly base_friction: number | null
}

/** Four inches on a gravel base of 15 °C in a tan colour: a common patio, every value to be set on site (estimates). */
export function slabDraft(slab: SlabOutlined | null | undefined): SlabDraft {
  return {
    corners: slab?.corners ?? [],
    abutting: slab?.abutting ?? [],
    thickness_m: slab?.thickness_m ?? 0.1016,
    insulation_r_m2k_w: slab?.insulation_r_m2k_w ?? 0,
    ground_temp_c: slab?.ground_temp_c ?? 15,
    solar_absorptivity: slab?.solar_absorptivity ?? SURFACE_COLOURS[3].solar_absorptivity,
    uncut_length_m: slab?.uncut_length_m ?? null,
    shade: slab?.shade ?? null,
    base_friction: slab?.base_friction ?? null,
  }
}

export function slabBody(draft: SlabDraft): SlabOutlined | null {
  if (judgeOutline(draft.corners).fault) return null
  const { corners, abutting, thickness_m, insulation_r_m2k_w, ground_temp_c, solar_absorptivity, uncut_length_m, shade, base_friction } = draft
  return { corners, abutting, thickness_m, insulation_r_m2k_w, ground_temp_c, solar_absorptivity, uncut_length_m, shade, base_friction }
}

export interface OrderDraft {
  readonly volume_m3: number | null
  readonly waste: number
  readonly loads: number | null
  readonly supplier: string
  /** Wall reading in the job's zone. */
  readonly pour: string
  readonly slump_mm: number | null
  readonly colour: string
}

export function orderDraft(order: OrderPlaced | null | undefined, waste: number, timeZone: string, colour: string): OrderDraft {
  return {
    volume_m3: order?.volume_m3 ?? null,
    waste,
    loads: order?.loads ?? null,
    supplier: order?.supplier ?? '',
    pour: order ? wallDateTime(new Date(order.pour_at), timeZone) : '',
    slump_mm: order?.slump_mm ?? 101.6,
    colour: order?.colour ?? colour,
  }
}

export type OrderFault = 'volume' | 'loads' | 'pour_at'

export function orderBody(draft: OrderDraft, suggested_m3: number | null, timeZone: string): { readonly body: OrderPlaced } | { readonly fault: OrderFault } {
  const volume_m3 = draft.volume_m3 ?? suggested_m3
  if (volume_m3 === null || !(volume_m3 >= 0.1)) return { fault: 'volume' }
  if (draft.loads === null) return { fault: 'loads' }
  const pour_at = instantOf(draft.pour, timeZone)
  if (!pour_at) return { fault: 'pour_at' }
  return {
    body: { volume_m3, loads: draft.loads, supplier: textOrNull(draft.supplier), pour_at: pour_at.toISOString(), slump_mm: draft.slump_mm, colour: textOrNull(draft.colour) },
  }
}

export function crewDraft(crew: CrewAssigned | null | undefined, saw_length_m: number | null): CrewAssigned {
  return {
    people: crew?.people ?? 4,
    mats: crew?.mats ?? 6,
    mat_area_m2: crew?.mat_area_m2 ?? 0.557,
    lay_minutes: crew?.lay_minutes ?? 2,
    saw_kind: crew?.saw_kind ?? 'conventional',
    saw_length_m: crew?.saw_length_m ?? saw_length_m,
    saw_rate_m_per_min: crew?.saw_rate_m_per_min ?? 1,
    lead: crew?.lead ?? null,
    crew_name: crew?.crew_name ?? null,
    saw_name: crew?.saw_name ?? null,
    sprayer_name: crew?.sprayer_name ?? null,
  }
}

const DAY_MS = 86_400_000

/** A day as it is being typed: nothing is assumed for what has not been entered. */
export type DayDraft = { readonly [Name in keyof PlannedDay]: Name extends 'date' ? string : number | null }

/** Rows for the pour day and the days after it; known days keep their values, others start empty. */
export function plannedDays(known: readonly DayDraft[], from: Date, count: number, timeZone: string): DayDraft[] {
  return Array.from({ length: count }, (_, i) => {
    const date = wallDate(new Date(from.getTime() + i * DAY_MS), timeZone)
    const before = known.find((day) => day.date === date)
    return { date, low_c: before?.low_c ?? null, high_c: before?.high_c ?? null, rh: before?.rh ?? null, wind_kmh: before?.wind_kmh ?? null, cloud: before?.cloud ?? null }
  })
}

export type DayFault = 'none' | 'unfinished' | 'swapped'

/** The days that are filled in; a half-filled day or a high below its low is refused by name. */
export function weatherBody(days: readonly DayDraft[]): { readonly days: readonly PlannedDay[] } | { readonly fault: DayFault; readonly date: string } {
  const begun = days.filter(({ low_c, high_c, rh, wind_kmh, cloud }) => [low_c, high_c, rh, wind_kmh, cloud].some((value) => value !== null))
  if (begun.length === 0) return { fault: 'none', date: '' }
  const half = begun.find((day) => !isWhole(day))
  if (half) return { fault: 'unfinished', date: half.date }
  const whole = begun.filter(isWhole)
  const swapped = whole.find((day) => day.high_c < day.low_c)
  return swapped ? { fault: 'swapped', date: swapped.date } : { days: whole }
}

function isWhole(day: DayDraft): day is PlannedDay {
  return [day.low_c, day.high_c, day.rh, day.wind_kmh, day.cloud].every((value) => value !== null)
}

export interface PlannedLoad {
  readonly id: LoadId
  readonly number: number
  readonly ticketed: boolean
}

/** Loads in number order: the ticketed ones, then those that bays already wait for. */
export function knownLoads(job: Pick<JobView, 'loads' | 'bays'>): PlannedLoad[] {
  const ticketed = job.loads.map((load) => ({ id: load.id, number: load.number, ticketed: true }))
  const ids = new Set<string>(ticketed.map((load) => load.id))
  const free = freeNumbers(new Set(ticketed.map((load) => load.number)))
  const waiting: PlannedLoad[] = []
  for (const bay of job.bays) {
    if (!bay.load || ids.has(bay.load)) continue
    ids.add(bay.load)
    waiting.push({ id: bay.load, number: free.next().value ?? 0, ticketed: false })
  }
  return [...ticketed, ...waiting].sort((a, b) => a.number - b.number)
}

export interface LoadChoice {
  readonly number: number
  /** Null for a load of the order that nothing refers to yet. */
  readonly id: LoadId | null
}

/** What a bay may be filled by: every known load and every load of the order. */
export function loadChoices(job: Pick<JobView, 'loads' | 'bays' | 'order'>): LoadChoice[] {
  const known = knownLoads(job)
  const numbers = new Set(known.map((load) => load.number))
  const rest = Array.from({ length: job.order?.loads ?? 0 }, (_, i) => i + 1).filter((number) => !numbers.has(number))
  return [...known.map(({ id, number }) => ({ id, number })), ...rest.map((number) => ({ id: null, number }))].sort((a, b) => a.number - b.number)
}

/** Loads of the order that no bay waits for; their concrete would have no place on the plan. */
export function loadsWithoutBay(job: Pick<JobView, 'loads' | 'bays' | 'order'>): number[] {
  if (job.bays.length === 0) return []
  const filled = new Set(job.bays.map((bay) => bay.load))
  return loadChoices(job).filter((load) => load.id === null || !filled.has(load.id)).map((load) => load.number)
}

function* freeNumbers(taken: ReadonlySet<number>): Generator<number, undefined> {
  for (let n = 1; n <= 1000; n++) if (!taken.has(n)) yield n
  return undefined
}

/** The id for load `number`: the one its bays wait for, else a new one. */
export function loadIdFor(job: Pick<JobView, 'loads' | 'bays'>, number: number, newId: () => string): LoadId {
  const waiting = knownLoads(job).find((load) => load.number === number && !load.ticketed)
  return waiting?.id ?? (newId() as LoadId)
}

export interface BayPlan {
  readonly bays: number
  readonly by: 'area' | 'load'
  readonly reversed: boolean
  readonly lengthwise: boolean
}

/** Shares for the cut: equal, or each load's volume shared by its bays. */
export function bayWeights(plan: BayPlan, loads: readonly { readonly volume_m3: number }[]): number[] {
  const bays = Math.max(1, plan.bays)
  if (plan.by === 'area' || loads.length === 0) return Array.from({ length: bays }, () => 1)
  const strips = Array.from({ length: bays }, (_, i) => Math.floor((i * loads.length) / bays))
  return strips.map((load) => (loads[load]?.volume_m3 ?? 1) / strips.filter((other) => other === load).length)
}

export interface BayChange {
  readonly drawn: readonly BayDrawn[]
  /** Bays of before that the new cut does not need. */
  readonly dropped: readonly BayId[]
}

/** The new cut as log bodies: bays of before keep their ids in order, so that what was done to bay 1 stays with bay 1. */
export function bayChange(drafts: readonly DraftBay[], before: readonly { readonly id: BayId }[], loadIds: readonly LoadId[], newId: () => string): BayChange {
  const strips = Math.max(0, ...drafts.map((draft) => draft.strip + 1))
  const drawn = drafts.map((draft, order): BayDrawn => ({
    bay: before[order]?.id ?? (newId() as BayId),
    label: draft.label,
    corners: draft.corners,
    load: (loadForStrip(draft.strip, strips, loadIds) as LoadId | undefined) ?? null,
    order,
  }))
  return { drawn, dropped: before.slice(drafts.length).map((bay) => bay.id) }
}

/** Drafts for a plan, or none while the outline can't be cut. */
export function draftsFor(corners: Ring, plan: BayPlan, loads: readonly { readonly volume_m3: number }[]): DraftBay[] {
  if (judgeOutline(corners).fault) return []
  return draftBays(corners, { weights: bayWeights(plan, loads), reversed: plan.reversed, lengthwise: plan.lengthwise })
}

/** Whether a changed outline still holds the bays drawn on the old one (areas agree to a hundredth). */
export function baysFit(bays: readonly { readonly area_m2: number }[], slab_m2: number): boolean {
  if (bays.length === 0) return true
  return Math.abs(bays.reduce((sum, bay) => sum + bay.area_m2, 0) - slab_m2) <= 0.01 * slab_m2
}


/** "Tue, Jul 14" for a calendar day. */
export function dayName(date: string, locale: string): string {
  const noon = new Date(`${date}T12:00:00Z`)
  return Number.isNaN(noon.getTime()) ? date : new Intl.DateTimeFormat(locale, { timeZone: 'UTC', weekday: 'short', month: 'short', day: 'numeric' }).format(noon)
}
