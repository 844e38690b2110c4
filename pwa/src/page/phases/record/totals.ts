/** What the job took. SI; no DOM. */
import type { JobView } from '../../../shared/job'
import { isDown } from '../pour/fill'

export interface Totals {
  readonly placed_m3: number
  readonly loads: number
  readonly water_l: number
  readonly area_m2: number | null
  readonly cut_m: number
  readonly coats: number
  readonly sealer_l: number
  readonly pins: number
  readonly open_pins: number
  /** First batching to the last texturing end; null until both are known [min]. */
  readonly batch_to_texture_min: number | null
}

export function totals(job: JobView): Totals {
  const down = job.loads.filter(isDown)
  const sum = (values: readonly (number | null)[]): number => values.reduce((total: number, value) => total + (value ?? 0), 0)
  return {
    placed_m3: sum(down.map((load) => load.volume_m3)),
    loads: down.length,
    water_l: sum(job.loads.map((load) => load.water_added_l)),
    area_m2: job.slab?.area_m2 ?? null,
    cut_m: job.cut_length_m,
    coats: job.coats.length,
    sealer_l: sum(job.coats.map((coat) => coat.volume_l)),
    pins: job.pins.length,
    open_pins: job.pins.filter((pin) => pin.open).length,
    batch_to_texture_min: batchToTexture(job),
  }
}

function batchToTexture(job: JobView): number | null {
  const ends = job.bays.flatMap((bay) => (bay.steps.texture?.end ? [Date.parse(bay.steps.texture.end.at)] : []))
  const batched = job.loads.map((load) => Date.parse(load.batched_at))
  if (ends.length === 0 || batched.length === 0) return null
  return Math.round((Math.max(...ends) - Math.min(...batched)) / 60_000)
}

export interface KeptPhoto {
  readonly photo: string
  readonly caption: string | null
  readonly pin: string | null
  readonly at: string
}

/** Every photo once: taken on their own or with a pin, in order of time. */
export function photosOf(job: Pick<JobView, 'photos' | 'pins'>): KeptPhoto[] {
  const own = job.photos.map(({ photo, caption, pin, at }): KeptPhoto => ({ photo, caption, pin, at }))
  const pinned = job.pins.flatMap((pin): KeptPhoto[] => (pin.photo ? [{ photo: pin.photo, caption: pin.note, pin: pin.id, at: pin.at }] : []))
  const all = [...own, ...pinned].sort((a, b) => a.at.localeCompare(b.at))
  return all.filter((one, i) => all.findIndex((other) => other.photo === one.photo) === i)
}
