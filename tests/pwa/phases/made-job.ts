// A job made from entries, through the real fold and view: what the screens' state is tested on.
import type { Event } from '../../../pwa/src/shared/event'
import type { Bodies, BayId, EventId, Kind, LoadId, PersonId, PinId, PointId } from '../../../pwa/src/shared/events'
import { fold } from '../../../pwa/src/shared/fold'
import { viewJob, type JobView } from '../../../pwa/src/shared/job'

const numbered = (n: number): string => `00000000-0000-7000-8000-${String(n).padStart(12, '0')}`
export const bayId = (n: number): BayId => numbered(100 + n) as BayId
export const loadId = (n: number): LoadId => numbered(200 + n) as LoadId
export const pinId = (n: number): PinId => numbered(300 + n) as PinId
export const pointId = (n: number): PointId => numbered(400 + n) as PointId
export const ana = numbered(1) as PersonId
export const ben = numbered(2) as PersonId

export const MORNING = Date.UTC(2026, 6, 14, 12, 0)
/** Minutes after seven in Chicago on the morning of the pour, as the log writes it. */
export const at = (minutes: number): string => new Date(MORNING + minutes * 60_000).toISOString()

export type Entry = { [K in Kind]: { readonly kind: K; readonly body: Bodies[K]; readonly minutes?: number; readonly author?: PersonId } }[Kind]

/** Entries as events, each a minute after the one before unless it says when. */
export function eventsOf(entries: readonly Entry[]): Event[] {
  return entries.map(({ kind, body, minutes, author }, i) => ({
    id: numbered(1000 + i) as EventId,
    job: numbered(9),
    kind,
    body,
    at: at(minutes ?? i),
    clock: `${String(MORNING + i).padStart(15, '0')}-0000-${numbered(7)}`,
    device: numbered(7),
    author: author ?? ana,
    raw_at: null,
  })) as unknown as Event[]
}

export const eventId = (index: number): EventId => numbered(1000 + index) as EventId

export function madeJob(...entries: readonly Entry[]): JobView {
  return viewJob(fold(eventsOf(entries)))
}

export const slab = (more: Partial<Bodies['slab.outlined']> = {}): Entry => ({
  kind: 'slab.outlined',
  body: {
    corners: [[0, 0], [8, 0], [8, 4], [0, 4]], thickness_m: 0.1, insulation_r_m2k_w: 0, ground_temp_c: 15, solar_absorptivity: 0.7,
    abutting: [{ edge: 0, against: 'House' }], ...more,
  },
})
export const order = (volume_m3: number, loads: number): Entry => ({ kind: 'order.placed', body: { volume_m3, loads, pour_at: at(0) } })
export const bay = (n: number, from_x: number, to_x: number, load: LoadId | null = null): Entry => ({
  kind: 'bay.drawn',
  body: { bay: bayId(n), label: String.fromCharCode(64 + n), corners: [[from_x, 0], [to_x, 0], [to_x, 4], [from_x, 4]], load, order: n },
})
export const ticket = (n: number, more: Partial<Bodies['load.ticketed']> = {}): Entry => ({
  kind: 'load.ticketed',
  body: { load: loadId(n), number: n, batched_at: at(-30), volume_m3: 1.6, slump_mm: 100, ...more },
})
export const placed = (n: number, from: number, to: number): Entry => ({ kind: 'load.placed', body: { load: loadId(n), from: at(from), to: at(to) } })
