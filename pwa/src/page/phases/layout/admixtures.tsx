import type { AdmixtureDose } from '../../../shared/events'
import { t } from '../../words'
import { ADMIXTURES, dosed, DOSES, turned } from './mix'

export interface AdmixturesProps {
  readonly rows: readonly AdmixtureDose[]
  readonly onChange: (rows: AdmixtureDose[]) => void
}

/** Which admixtures are in it, and for each half, usual or double the maker's dose. */
export function Admixtures({ rows, onChange }: AdmixturesProps) {
  return (
    <div class="stack" role="group" aria-label={t('layout.mix.admixtures')}>
      <p class="look-choice-label">{t('layout.mix.admixtures')}</p>
      <ul class="rows">
        {ADMIXTURES.map((type) => {
          const told = rows.find((row) => row.type === type)
          const kind = t(`pour.admixture.${type}`)
          return (
            <li key={type} class="dose-row">
              <button type="button" class="corner-pick dose-kind" aria-pressed={told !== undefined} onClick={() => onChange(turned(rows, type))}>{kind}</button>
              {told && (
                <div class="row full" role="group" aria-label={t('layout.mix.doseOf', { kind })}>
                  <span>{t('layout.mix.dose')}</span>
                  {DOSES.map(({ word, dose }) => (
                    <button key={word} type="button" class="corner-pick dose-kind" aria-pressed={Math.abs(told.dose - dose) < 0.01} onClick={() => onChange(dosed(rows, type, dose))}>
                      {t(`layout.dose.${word}`)}
                    </button>
                  ))}
                </div>
              )}
            </li>
          )
        })}
      </ul>
      <p class="soft">{t('layout.mix.admixturesHint')}</p>
    </div>
  )
}
