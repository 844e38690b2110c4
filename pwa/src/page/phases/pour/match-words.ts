import type { AdmixtureDose } from '../../../shared/events'
import type { JobView } from '../../../shared/job'
import { formatDuration } from '../../../shared/units'
import { units } from '../../shell/preferences'
import { t } from '../../words'
import { say, shownAs, type Quantity } from '../quantity'
import { timeOf } from '../who'
import type { MatchCode, MatchWord } from './match'

export interface MatchSaid {
  readonly title: string
  readonly todo: string
}

/** A match word in the person's words and units: what stands out, and what to do before it is discharged. */
export function sayMatch(word: MatchWord, job: JobView): MatchSaid {
  const amount = amountOf(word.code)
  const { here, there, other, drum } = word
  const limit = drum && formatDuration(drum.limit_min)
  const params = {
    here: here === undefined ? '' : amount(here),
    there: there === undefined ? '' : amount(there),
    apart: here === undefined || there === undefined ? '' : apart(word.code, Math.abs(here - there), amount),
    than: other === undefined ? t('pour.match.theMix') : t('pour.match.load', { number: other }),
    mine: word.names?.[0] ?? (word.kinds ? sayDoses(word.kinds[0]) : ''),
    its: word.names?.[1] ?? (word.kinds ? sayDoses(word.kinds[1]) : ''),
    limit: limit ?? '', age: drum ? formatDuration(drum.age_min) : '',
    by: drum ? timeOf(job, drum.by.toISOString()) : '', empty: drum ? timeOf(job, drum.empty.toISOString()) : '',
    why: drum ? t(`pour.drum.${drum.because}`) : '',
    w_cm: word.w_cm === undefined ? '' : t('pour.match.ratio', { here: word.w_cm.toFixed(2), mix: (job.mix?.w_cm ?? 0).toFixed(2) }),
  }
  const code = word.code === 'temp_apart' && (here ?? 0) < (there ?? 0) ? 'temp_cooler' : word.code
  return { title: t(`pour.match.${code}.title`, params), todo: t(`pour.match.${code}.do`, params).replace(/\s+/g, ' ').trim() }
}

function amountOf(code: MatchCode): (si: number) => string {
  if (code.startsWith('slump')) return (si) => say(si, 'slump', units.value)
  if (code === 'water_apart') return perVolume
  if (code.startsWith('water')) return (si) => say(si, 'water', units.value)
  if (code.startsWith('colour')) return (si) => String(Number(si.toFixed(1)))
  return (si) => say(si, 'temp', units.value)
}

/** Water to the yard or the cubic metre. */
function perVolume(l_m3: number): string {
  const [water, volume] = [shownAs('water', units.value), shownAs('volume', units.value)]
  return `${Number(((l_m3 * water.factor) / volume.factor).toFixed(1))}\u00a0${water.unit}/${volume.unit}`
}

/** A difference of temperatures has no offset. */
function apart(code: MatchCode, si: number, amount: (si: number) => string): string {
  if (code !== 'temp_apart') return amount(si)
  const { factor, unit } = shownAs('temp' satisfies Quantity, units.value)
  return `${Math.round(si * factor)}\u00a0${unit}`
}

export function sayDoses(rows: readonly AdmixtureDose[]): string {
  if (rows.length === 0) return t('pour.admixture.none')
  return rows.map(({ type, dose }) => (dose === 1 ? t(`pour.admixture.${type}`) : `${t(`pour.admixture.${type}`)} ×${dose}`)).join(', ')
}
