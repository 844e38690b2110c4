/** Why an hour is out and what speaks for a slot, in words. No DOM. */
import type { JobView } from '../../../shared/job'
import { units } from '../../shell/preferences'
import type { FitSlot, Why } from '../../sync/days'
import { t } from '../../words'
import { say } from '../quantity'
import { momentOf } from '../who'

const TEMPS: ReadonlySet<string> = new Set(['air_cold', 'air_hot', 'surface_cold', 'surface_hot'])
const KNOWN = ['too_green', 'not_yet', 'recoat_early', 'recoat_late', 'rain', 'rain_before', 'rain_after', 'damp', 'near_dew', 'surface_cold', 'surface_hot', 'air_cold', 'air_hot', 'wind', 'dark', 'short'] as const
type Code = (typeof KNOWN)[number]
const WETTED = ['placing', 'wash', 'rain', 'dew', 'sheet', 'cover'] as const

const isCode = (code: string): code is Code => (KNOWN as readonly string[]).includes(code)

/** One reason in a sentence, with its numbers. */
export function sayWhy(why: Why, job: JobView): string {
  if (!isCode(why.code)) return why.code
  const at = why.at ? momentOf(job, why.at) : null
  if (why.code === 'damp') return at ? t('nextDays.why.damp', { by: wettedBy(why.of), at }) : t('nextDays.why.dampLong', { by: wettedBy(why.of) })
  if (why.code === 'too_green') return at ? t('nextDays.why.too_green', { at }) : t('nextDays.why.too_greenLong')
  if (why.code === 'not_yet') return t('nextDays.why.not_yet', { work: workName(why.of) })
  if (why.code === 'recoat_early' && why.of === 'wash') return t('nextDays.why.afterWash', { at: at ?? '–' })
  return t(`nextDays.why.${why.code}`, { ...numbers(why), at: at ?? '–' })
}

/** The reason in two or three words, for a row. */
export function shortWhy(why: Why): string {
  return isCode(why.code) ? t(`nextDays.short.${why.code}`) : why.code
}

function numbers({ code, value = 0, limit = 0 }: Why): Record<string, string | number> {
  const system = units.value
  if (TEMPS.has(code)) return { value: say(value, 'temp', system), limit: say(limit, 'temp', system) }
  if (code === 'near_dew') return { value: say(value, 'spread', system), limit: say(limit, 'spread', system) }
  if (code === 'wind') return { value: say(value, 'speed', system), limit: say(limit, 'speed', system) }
  return { value, limit }
}

export function wettedBy(cause: string | undefined): string {
  const known = WETTED.find((one) => one === cause)
  return known ? t(`nextDays.wet.${known}`) : ''
}

export function workName(work: string | undefined): string {
  return work === 'colour' ? t('nextDays.colour') : work === 'seal' ? t('nextDays.seal') : t('nextDays.wash')
}

/** What speaks for a slot: air, dew, wind, rain. An older server's own words where it gives no numbers. */
export function sayFor(slot: FitSlot): string {
  if (!slot.air_c) return slot.reason
  const system = units.value
  const [low, high] = slot.air_c.map((air) => say(air, 'temp', system))
  const parts = [low === high ? t('nextDays.for.airOne', { low: low ?? '' }) : t('nextDays.for.air', { low: low ?? '', high: high ?? '' })]
  if (slot.over_dew_k !== undefined) parts.push(t('nextDays.for.dew', { over: say(slot.over_dew_k, 'spread', system) }))
  if (slot.wind_kmh !== undefined) parts.push(t('nextDays.for.wind', { most: say(slot.wind_kmh, 'speed', system) }))
  const { no_rain_h = 0, no_rain_asked_h = 0 } = slot
  if (no_rain_asked_h > 0) parts.push(t(no_rain_h < no_rain_asked_h ? 'nextDays.for.rainShort' : 'nextDays.for.rain', { hours: no_rain_h }))
  return parts.join(', ')
}
