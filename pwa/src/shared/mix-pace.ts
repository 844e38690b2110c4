/** How a mix sets beside the usual one, by the engine's own figures: said at once, before anything is worked out. */
import type { MixChosen } from './events'
import { PACE_FIGURES as FIGURES } from './recipe'

export interface MixPace {
  readonly pace: 'slow' | 'usual' | 'fast'
  /** How much later or sooner, to the nearest five; 0 where it is usual. */
  readonly percent: number
}

export type Recipe = Partial<Pick<MixChosen, 'cement_type' | 'fly_ash_fraction' | 'fly_ash_class' | 'slag_fraction' | 'admixtures' | 'set_factor'>>

/** The pace from all that is told of the mix, set factor too. */
export function mixPace(mix: Recipe): MixPace {
  const ratio = setRatio(mix) * (mix.set_factor ?? 1)
  const percent = halfToEven(Math.abs(ratio - 1) * 20) * 5
  if (ratio > 1 + FIGURES.speaks_at) return { pace: 'slow', percent }
  return ratio < 1 - FIGURES.speaks_at ? { pace: 'fast', percent } : { pace: 'usual', percent: 0 }
}

/** How many times later the mix sets than the same mix of plain cement. */
function setRatio({ cement_type, fly_ash_fraction, fly_ash_class, slag_fraction, admixtures }: Recipe): number {
  const moved = (admixtures ?? []).reduce((ratio, { type, dose }) => ratio * FIGURES.admixture[type] ** dose, 1)
  const replaced = 1 + FIGURES.ash[fly_ash_class ?? 'F'] * (fly_ash_fraction ?? 0) + FIGURES.slag * (slag_fraction ?? 0)
  return Math.min(FIGURES.most, Math.max(FIGURES.least, FIGURES.cement[cement_type ?? 'I/II'] * moved * replaced))
}

/** A half goes to the even number, as it does on the server. */
function halfToEven(value: number): number {
  const below = Math.floor(value)
  const rest = value - below
  if (rest === 0.5) return below % 2 === 0 ? below : below + 1
  return Math.round(value)
}
