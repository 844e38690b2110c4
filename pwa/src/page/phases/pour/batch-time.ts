/** A batch time as people type it off a ticket with one thumb: 810, 8:10, 1430, 8:10 pm. No DOM. */
import { formatTime } from '../../../shared/units'
import { nearestInstant } from '../wall-clock'

const FORM = /^(\d{1,2}):?(\d{2})\s*([ap])?\.?\s*m?\.?$/i
const HALF_DAY_MS = 12 * 3_600_000

/** So soon after now a time is a slip of a few minutes, to be told, not last night [ms]. */
const SLIP_MS = 60 * 60_000

/**
 * The instant meant, or null when the text is no time. With `am` or `pm`, an hour past 12 or a leading zero it is what
 * it says; else the half of the day is the one that makes it latest before `near`, an hour's slip allowed.
 */
export function readBatchTime(text: string, near: Date, timeZone: string): Date | null {
  const [, hours, minutes, half] = FORM.exec(text.trim()) ?? []
  if (hours === undefined || minutes === undefined) return null
  const hour = Number(hours)
  if (half) return hour >= 1 && hour <= 12 ? at((hour % 12) + (half.toLowerCase() === 'p' ? 12 : 0), minutes, near, timeZone) : null
  if (hour === 0 || hour > 12 || hours.startsWith('0')) return at(hour, minutes, near, timeZone)
  const both = [hour % 12, (hour % 12) + 12].flatMap((one) => at(one, minutes, near, timeZone) ?? [])
  const latest = near.getTime() + SLIP_MS
  const past = both.map((one) => (one.getTime() > latest ? new Date(one.getTime() - 2 * HALF_DAY_MS) : one))
  return past.reduce<Date | null>((best, one) => (!best || one > best ? one : best), null)
}

function at(hour: number, minutes: string, near: Date, timeZone: string): Date | null {
  return nearestInstant(`${String(hour).padStart(2, '0')}:${minutes}`, near, timeZone) ?? null
}

/** What stands in the field: 8:10 am. */
export function batchText(at: string | null, timeZone: string): string {
  return at ? formatTime(new Date(at), timeZone).replace(/\s/g, ' ') : ''
}
