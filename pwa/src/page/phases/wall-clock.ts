/** Wall-clock text in a job's time zone to instants and back, for time fields. No DOM. */
import { zoneOffset_ms } from '../../shared/zone'

interface Parts {
  readonly year: number
  readonly month: number
  readonly day: number
  readonly hour: number
  readonly minute: number
}

function partsIn(instant: Date, timeZone: string): Parts {
  const wall = new Date(instant.getTime() + zoneOffset_ms(instant.getTime(), timeZone))
  return { year: wall.getUTCFullYear(), month: wall.getUTCMonth() + 1, day: wall.getUTCDate(), hour: wall.getUTCHours(), minute: wall.getUTCMinutes() }
}

const two = (n: number): string => String(n).padStart(2, '0')

/** `HH:MM` on the wall at that instant. */
export function wallTime(instant: Date, timeZone: string): string {
  const { hour, minute } = partsIn(instant, timeZone)
  return `${two(hour)}:${two(minute)}`
}

/** `YYYY-MM-DD` on the wall at that instant. */
export function wallDate(instant: Date, timeZone: string): string {
  const { year, month, day } = partsIn(instant, timeZone)
  return `${String(year).padStart(4, '0')}-${two(month)}-${two(day)}`
}

/** `YYYY-MM-DDTHH:MM` on the wall, as date-and-time fields hold it. */
export function wallDateTime(instant: Date, timeZone: string): string {
  return `${wallDate(instant, timeZone)}T${wallTime(instant, timeZone)}`
}

/** The instant of a wall reading, or undefined when the text is no date and time. A time skipped in spring reads an hour on. */
export function instantOf(wall: string, timeZone: string): Date | undefined {
  const match = /^(\d{4})-(\d{2})-(\d{2})T(\d{2}):(\d{2})/.exec(wall)
  if (!match) return undefined
  const [year, month, day, hour, minute] = match.slice(1).map(Number)
  const asUtc = Date.UTC(year ?? 0, (month ?? 1) - 1, day ?? 1, hour ?? 0, minute ?? 0)
  if (Number.isNaN(asUtc)) return undefined
  const first = asUtc - zoneOffset_ms(asUtc, timeZone)
  return new Date(asUtc - zoneOffset_ms(first, timeZone))
}

const DAY_MS = 86_400_000

/**
 * The instant nearest to `near` at which the wall shows `HH:MM`: at 00:20, 23:50 means last night.
 * Undefined when the text is no time.
 */
export function nearestInstant(time: string, near: Date, timeZone: string): Date | undefined {
  if (!/^([01]\d|2[0-3]):[0-5]\d$/.test(time)) return undefined
  const candidates = [-1, 0, 1]
    .map((days) => instantOf(`${wallDate(new Date(near.getTime() + days * DAY_MS), timeZone)}T${time}`, timeZone))
    .filter((instant): instant is Date => instant !== undefined)
  return candidates.reduce<Date | undefined>((best, one) => (!best || gap(one, near) < gap(best, near) ? one : best), undefined)
}

function gap(a: Date, b: Date): number {
  return Math.abs(a.getTime() - b.getTime())
}
