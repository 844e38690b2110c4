/** A mix in the words of the trade. Reads the language of the person; no DOM. */
import type { AdmixtureDose, MixChosen } from '../../../shared/events'
import { mixPace, type Recipe } from '../../../shared/mix-pace'
import { t } from '../../words'
import { DOSES } from './mix'

/** "Slow mix: sets about 40 % later than the usual mix." */
export function paceWords(mix: Recipe): string {
  const { pace, percent } = mixPace(mix)
  return t(`layout.mix.pace.${pace}`, { percent })
}

/** "Retarder (B), half dose". */
export function doseWords({ type, dose }: AdmixtureDose): string {
  const kind = t(`pour.admixture.${type}`)
  const known = DOSES.find((one) => Math.abs(one.dose - dose) < 0.01)
  if (known?.word === 'usual') return kind
  return known ? t('layout.mix.dosed', { kind, dose: t(`layout.dose.${known.word}`) }) : t('layout.mix.dosed', { kind, dose: `×${Number(dose.toFixed(2))}` })
}

/** What is in it beside plain cement, in one line; empty where nothing was told. */
export function recipeWords(mix: Partial<MixChosen>): string {
  const share = (value: number | null | undefined, kind: string): string | null => (value ? t('layout.mix.share', { percent: Math.round(value * 100), kind }) : null)
  const parts = [
    mix.cement_type ? t(`layout.cement.${mix.cement_type}`) : null,
    share(mix.fly_ash_fraction, mix.fly_ash_class === 'C' ? t('layout.ash.C') : t('layout.ash.F')),
    share(mix.slag_fraction, t('layout.mix.slagShort')),
    share(mix.silica_fume_fraction, t('layout.mix.fumeShort')),
    ...(mix.admixtures ?? []).map(doseWords),
  ]
  return parts.filter(Boolean).join(', ')
}
