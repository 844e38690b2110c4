/** A load held against load 1, the mix and the order, before any of it is discharged. SI; no DOM. */
import type { AdmixtureDose } from '../../../shared/events'
import { waterEffect } from '../layout/take-off'
import { drumLimit, drumOf, placingPace, type Drum } from './drum'
import { isDown, type LoggedLoad } from './fill'

/** What is read off one load's ticket; null where it is not known. */
export interface MatchLoad {
  readonly id?: string
  readonly number: number | null
  readonly batched_at: string | null
  readonly volume_m3: number | null
  readonly slump_mm: number | null
  readonly concrete_temp_c: number | null
  readonly water_added_l: number | null
  readonly water_allowed_l: number | null
  readonly colour_bags: number | null
  readonly plant: string | null
  readonly admixtures: readonly AdmixtureDose[] | null
  readonly placed?: LoggedLoad['placed']
}

/** A load already logged. */
export interface KnownLoad extends MatchLoad {
  readonly id: string
  readonly number: number
  readonly batched_at: string
  readonly volume_m3: number
}

export interface MatchMix {
  readonly cement_kg_m3: number
  readonly w_cm: number
  readonly plant: string | null
  readonly admixtures: readonly AdmixtureDose[] | null
  readonly slump_allowance_mm: number | null
  readonly drum_limit_min: number | null
}

export interface Against {
  readonly loads: readonly KnownLoad[]
  readonly mix: MatchMix | null
  readonly order: { readonly slump_mm: number | null } | null
  readonly air_c: number | null
  readonly now: Date
}

/** hold: none of it leaves the drum before someone has answered. ask: put it right or ask. know: place it, and know this. */
export type MatchTone = 'hold' | 'ask' | 'know'
/** Tail of the word keys `pour.match.….title` and `pour.match.….do`. */
export type MatchCode =
  | 'slump_wetter' | 'slump_stiffer' | 'slump_over_order' | 'slump_under_order'
  | 'drum_past' | 'drum_short'
  | 'water_past' | 'water_unsaid' | 'water_apart'
  | 'hot' | 'cold' | 'temp_apart'
  | 'colour_short' | 'colour_over' | 'colour_unsaid'
  | 'plant_apart' | 'admixtures_apart'

export interface MatchWord {
  readonly code: MatchCode
  readonly tone: MatchTone
  /** This load's figure, in SI. */
  readonly here?: number
  /** What it is held against, in SI. */
  readonly there?: number
  /** The load it is held against; absent where that is the mix, the order or a limit. */
  readonly other?: number
  readonly names?: readonly [string, string]
  readonly kinds?: readonly [readonly AdmixtureDose[], readonly AdmixtureDose[]]
  readonly drum?: Drum
  /** w/cm with the water added. */
  readonly w_cm?: number
}

/** An inch of slump shows as a change of shade (estimate; the mix may set another) [mm]. */
const SLUMP_ALLOWANCE_MM = 25.4
/** A tape reads no closer [mm]. */
const SLUMP_GRAIN_MM = 0.5
/** Half a gallon a yard: half of what moves the slump by an inch (estimate) [l/m³]. */
const WATER_APART_L_M3 = 2.5
/** Most at discharge: 95 °F (ACI 305.1). Least for slabs under 12 in: 55 °F (ACI 306) [°C]. */
const HOT_C = 35
const COLD_C = (55 - 32) / 1.8
/** 10 °F between two loads moves their clocks by about a fifth (the survey of ASCC Position Statement 15) [K]. */
const TEMP_APART_K = 10 / 1.8
/** Share of colour that can be told from bay to bay (estimate). */
const COLOUR_APART = 0.04

/** What stands out, gravest first. Once a load is down there is nothing left to hold, and nothing is said. */
export function matchWords(load: MatchLoad, against: Against): MatchWord[] {
  if (isDown(load)) return []
  const found = [...drumWords(load, against), ...slumpWords(load, against), ...waterWords(load, against), ...colourWords(load, against), ...sourceWords(load, against), ...heatWords(load, against)]
  const order: readonly MatchTone[] = ['hold', 'ask', 'know']
  return found.sort((a, b) => order.indexOf(a.tone) - order.indexOf(b.tone))
}

/** The load with the lowest number before this one that says anything about `read`. */
function first<T>(load: MatchLoad, { loads }: Against, read: (one: KnownLoad) => T | null): { readonly number: number; readonly value: T } | null {
  const before = loads.filter((one) => one.id !== load.id && (load.number === null || one.number < load.number))
  for (const one of [...before].sort((a, b) => a.number - b.number)) {
    const value = read(one)
    if (value !== null) return { number: one.number, value }
  }
  return null
}

function drumWords(load: MatchLoad, { loads, mix, air_c, now }: Against): MatchWord[] {
  if (load.batched_at === null) return []
  const others = loads.filter((one) => one.id !== load.id)
  const body = { batched_at: load.batched_at, volume_m3: load.volume_m3 ?? 0, placed: load.placed ?? null }
  const drum = drumOf(body, drumLimit(mix?.drum_limit_min, air_c), placingPace(others), now)
  if (drum.age_min > drum.limit_min) return [{ code: 'drum_past', tone: 'hold', drum }]
  return drum.empty.getTime() - drum.by.getTime() >= 60_000 ? [{ code: 'drum_short', tone: 'ask', drum }] : []
}

function slumpWords(load: MatchLoad, against: Against): MatchWord[] {
  const here = load.slump_mm
  if (here === null) return []
  const allowed = (against.mix?.slump_allowance_mm ?? SLUMP_ALLOWANCE_MM) + SLUMP_GRAIN_MM
  const found: MatchWord[] = []
  const one = first(load, against, ({ slump_mm }) => slump_mm)
  if (one && Math.abs(here - one.value) > allowed) {
    found.push(here > one.value ? { code: 'slump_wetter', tone: 'hold', here, there: one.value, other: one.number } : { code: 'slump_stiffer', tone: 'ask', here, there: one.value, other: one.number })
  }
  const ordered = against.order?.slump_mm ?? null
  if (found.length === 0 && ordered !== null && Math.abs(here - ordered) > allowed) {
    found.push(here > ordered ? { code: 'slump_over_order', tone: 'hold', here, there: ordered } : { code: 'slump_under_order', tone: 'ask', here, there: ordered })
  }
  return found
}

function waterWords(load: MatchLoad, against: Against): MatchWord[] {
  const here = load.water_added_l ?? 0
  const found: MatchWord[] = []
  const allowed = load.water_allowed_l
  if (allowed !== null && here > allowed) found.push({ code: 'water_past', tone: 'hold', here, there: allowed, ...wetter(load, here - allowed, against) })
  else if (allowed === null && here > 0) found.push({ code: 'water_unsaid', tone: 'ask', here, ...wetter(load, here, against) })
  const one = first(load, against, perM3)
  const mine = perM3(load)
  if (one && mine !== null && load.water_added_l !== null && Math.abs(mine - one.value) > WATER_APART_L_M3) {
    found.push({ code: 'water_apart', tone: 'ask', here: mine, there: one.value, other: one.number })
  }
  return found
}

/** Water added on site [l/m³]; none written down counts as none added. */
function perM3({ water_added_l, volume_m3 }: MatchLoad): number | null {
  return volume_m3 ? (water_added_l ?? 0) / volume_m3 : null
}

/** The mix's w/cm once that much more water than it was made for is in. */
function wetter({ volume_m3 }: MatchLoad, excess_l: number, { mix }: Against): { readonly w_cm?: number } {
  if (!mix || !volume_m3) return {}
  return { w_cm: mix.w_cm + waterEffect(excess_l, volume_m3, mix.cement_kg_m3).w_cm_rise }
}

function heatWords(load: MatchLoad, against: Against): MatchWord[] {
  const here = load.concrete_temp_c
  if (here === null) return []
  if (here > HOT_C) return [{ code: 'hot', tone: 'hold', here, there: HOT_C }]
  if (here < COLD_C - 0.05) return [{ code: 'cold', tone: 'ask', here, there: COLD_C }]
  const one = first(load, against, ({ concrete_temp_c }) => concrete_temp_c)
  return one && Math.abs(here - one.value) > TEMP_APART_K ? [{ code: 'temp_apart', tone: 'know', here, there: one.value, other: one.number }] : []
}

function colourWords(load: MatchLoad, against: Against): MatchWord[] {
  const one = first(load, against, (other) => (other.colour_bags ? other.colour_bags / other.volume_m3 : null))
  if (!one || !load.volume_m3) return []
  const there = one.value * load.volume_m3
  const here = load.colour_bags
  // On a ticket still being written an empty field is not yet a missing bag.
  if (here === null) return load.id === undefined ? [] : [{ code: 'colour_unsaid', tone: 'ask', there, other: one.number }]
  if (Math.abs(here - there) <= there * COLOUR_APART) return []
  return [here < there ? { code: 'colour_short', tone: 'hold', here, there, other: one.number } : { code: 'colour_over', tone: 'ask', here, there, other: one.number }]
}

/** Empty on a ticket means as the mix says. */
function sourceWords(load: MatchLoad, against: Against): MatchWord[] {
  const { mix } = against
  const plantOf = (one: MatchLoad): string | null => one.plant?.trim() || mix?.plant?.trim() || null
  const found: MatchWord[] = []
  const plant = plantOf(load)
  const from = first(load, against, plantOf) ?? (mix?.plant ? { number: undefined, value: mix.plant } : null)
  if (plant && from && !sameName(plant, from.value)) found.push({ code: 'plant_apart', tone: 'hold', names: [plant, from.value], ...numbered(from) })
  const dosesOf = (one: MatchLoad): readonly AdmixtureDose[] | null => one.admixtures ?? mix?.admixtures ?? null
  const doses = dosesOf(load)
  const there = first(load, against, dosesOf) ?? (mix?.admixtures ? { number: undefined, value: mix.admixtures } : null)
  if (doses && there && !sameDoses(doses, there.value)) found.push({ code: 'admixtures_apart', tone: 'ask', kinds: [doses, there.value], ...numbered(there) })
  return found
}

function numbered({ number }: { readonly number: number | undefined }): { readonly other?: number } {
  return number === undefined ? {} : { other: number }
}

function sameName(a: string, b: string): boolean {
  const plain = (text: string): string => text.trim().toLowerCase().replace(/\s+/g, ' ')
  return plain(a) === plain(b)
}

function sameDoses(a: readonly AdmixtureDose[], b: readonly AdmixtureDose[]): boolean {
  const dose = (rows: readonly AdmixtureDose[], type: string): number => rows.filter((row) => row.type === type).reduce((sum, row) => sum + row.dose, 0)
  return [...a, ...b].every(({ type }) => Math.abs(dose(a, type) - dose(b, type)) < 0.05)
}
