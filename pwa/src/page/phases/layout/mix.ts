/** What the mix form holds, where it starts, and what it writes. SI; no DOM. */
import { LIMITS, type AdmixtureDose, type MixChosen } from '../../../shared/events'

export type MixDraft = { readonly [Name in keyof MixChosen]-?: Exclude<MixChosen[Name], undefined> }

export const AGGREGATES: readonly MixChosen['aggregate'][] = LIMITS['mix.chosen'].aggregate.options
export const CEMENTS = LIMITS['mix.chosen'].cement_type.options
export const ASHES = LIMITS['mix.chosen'].fly_ash_class.options
export const ADMIXTURES: readonly AdmixtureDose['type'][] = LIMITS.AdmixtureDose.type.options

/** Most of the binder that ash, slag and fume may make together. */
export const MOST_REPLACED = 0.85

/** Doses as the trade says them, as shares of the maker's usual one. */
export const DOSES = [{ word: 'half', dose: 0.5 }, { word: 'usual', dose: 1 }, { word: 'double', dose: 2 }] as const

/** 564 lb/yd³ at w/cm 0.45, 4000 psi: common for outdoor flatwork (common practice, no source). */
export function mixDraft(mix: MixChosen | null | undefined): MixDraft {
  return {
    name: mix?.name ?? '',
    cement_kg_m3: mix?.cement_kg_m3 ?? 334.6,
    w_cm: mix?.w_cm ?? 0.45,
    design_strength_mpa: mix?.design_strength_mpa ?? 27.579,
    aggregate: mix?.aggregate ?? 'crushed-hard',
    set_factor: mix?.set_factor ?? null,
    set_factor_sd: mix?.set_factor_sd ?? null,
    colour: mix?.colour ?? null,
    note: mix?.note ?? null,
    plant: mix?.plant ?? null,
    cement_type: mix?.cement_type ?? null,
    fly_ash_fraction: mix?.fly_ash_fraction ?? null,
    fly_ash_class: mix?.fly_ash_class ?? null,
    slag_fraction: mix?.slag_fraction ?? null,
    silica_fume_fraction: mix?.silica_fume_fraction ?? null,
    admixtures: mix?.admixtures ?? null,
    slump_allowance_mm: mix?.slump_allowance_mm ?? null,
    drum_limit_min: mix?.drum_limit_min ?? null,
  }
}

export type MixFault = 'nameless' | 'tooMuch'

/** What the log keeps: ash without a class counts as F where there is ash, and as nothing where there is none. */
export function mixBody(draft: MixDraft): { readonly body: MixChosen } | { readonly fault: MixFault } {
  if (draft.name.trim() === '') return { fault: 'nameless' }
  const replaced = (draft.fly_ash_fraction ?? 0) + (draft.slag_fraction ?? 0) + (draft.silica_fume_fraction ?? 0)
  if (replaced > MOST_REPLACED + 1e-9) return { fault: 'tooMuch' }
  const fly_ash_class = draft.fly_ash_fraction ? (draft.fly_ash_class ?? 'F') : null
  return { body: { ...draft, name: draft.name.trim(), fly_ash_class, admixtures: draft.admixtures?.length ? draft.admixtures : null } }
}

/** The rows with one admixture turned on at its usual dose, or off. */
export function turned(rows: readonly AdmixtureDose[], type: AdmixtureDose['type']): AdmixtureDose[] {
  const others = rows.filter((row) => row.type !== type)
  if (others.length < rows.length) return others
  return [...rows, { type, dose: 1 }].sort((a, b) => ADMIXTURES.indexOf(a.type) - ADMIXTURES.indexOf(b.type))
}

/** The rows with one admixture's dose changed. */
export function dosed(rows: readonly AdmixtureDose[], type: AdmixtureDose['type'], dose: number): AdmixtureDose[] {
  return rows.map((row) => (row.type === type ? { ...row, dose } : row))
}
