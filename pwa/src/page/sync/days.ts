/** What the engine says of the days after the pour and of the saw's day. Older servers don't say it. */
import type { IsoTime } from './contract'

export type Work = 'wash' | 'colour' | 'seal'

/** One thing that keeps work from an hour: how it is and what is asked, SI, and a time that belongs to it. */
export type Why = { readonly code: string; readonly value?: number; readonly limit?: number; readonly at?: IsoTime; readonly of?: string }

export type HoursOut = { readonly from: IsoTime; readonly to: IsoTime; readonly why: readonly Why[] }

export type FitSlot = {
  readonly from: IsoTime
  readonly to: IsoTime
  readonly reason: string
  readonly air_c?: readonly [number, number]
  readonly over_dew_k?: number
  readonly wind_kmh?: number
  readonly no_rain_h?: number
  readonly no_rain_asked_h?: number
}

export type Limit = { readonly value: number; readonly from: 'label' | 'practice' }

export type KeptAhead = { readonly from: IsoTime; readonly to: IsoTime; readonly out: readonly HoursOut[]; readonly known: boolean; readonly next_best: FitSlot | null }

export type WorkAhead = {
  readonly work: Work
  readonly coat: number
  readonly after: { readonly work: Work; readonly coat: number; readonly at: IsoTime | null; readonly done: boolean } | null
  readonly opens: IsoTime | null
  readonly shuts: IsoTime | null
  readonly limits: Readonly<Record<string, Limit>>
  readonly slots: readonly FitSlot[]
  readonly hours_out: readonly HoursOut[]
  readonly kept: KeptAhead | null
}

export type DaysAhead = {
  readonly from: IsoTime
  readonly to: IsoTime
  readonly works: readonly WorkAhead[]
  readonly drying: {
    readonly water_kg_m2: number
    readonly wetted_by: string
    readonly dry_at: { readonly early: IsoTime | null; readonly likely: IsoTime | null; readonly late: IsoTime | null }
  }
}

export type CutAhead = {
  readonly id: string
  readonly length_m: number
  readonly minutes: number
  readonly opens: IsoTime | null
  readonly closes: IsoTime | null
  readonly start_by: IsoTime | null
  readonly starts: IsoTime | null
  readonly ends: IsoTime | null
  readonly late: boolean
  readonly made_at: IsoTime | null
}

export type SawPlan = {
  readonly kind: string
  readonly rate_m_per_min: number
  readonly left_m: number
  readonly minutes_left: number
  readonly opens: IsoTime | null
  readonly start_by: IsoTime | null
  readonly short_from: string | null
  readonly saws: number | null
  readonly test: { readonly at: IsoTime; readonly result: 'clean' | 'slight' | 'ravels'; readonly load: string | null; readonly again_at: IsoTime | null } | null
  readonly cuts: readonly CutAhead[]
}
