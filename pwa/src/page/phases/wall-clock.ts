/** Wall-clock text in a job's time zone to instants and back, for time fields. No DOM. */

interface Parts {
  readonly year: number
  readonly month: number
  readonly day: number
  readonly hour: number
  readonly minute: number
}

function partsIn(instant: Date, timeZone: string): Parts {
  const format = new Intl.DateTimeFormat('en-US', {
    timeZone, hourCycle: 'h23', year: 'numeric', month: '2-digit', day: '2-digit', hour: '2-digit', minute: '2-digit',
  })
  const found = new Map(format.formatToParts(instant).map((part) => [part.type, Number(part.value)]))
  const read = (type: Intl.DateTimeFormatPartTypes): number => found.get(type) ?? 0
  return { year: read('year'), month: read('month'), day: read('day'), hour: read('hour'), minute: read('minute') }
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
  const first = asUtc - offsetAt(asUtc, timeZone)
  return new Date(asUtc - offsetAt(first, timeZone))
}

/** How far the zone's wall is ahead of UTC at that instant [ms]. */
function offsetAt(instant_ms: number, timeZone: string): number {
  const p = partsIn(new Date(instant_ms), timeZone)
  const wall = Date.UTC(p.year, p.month - 1, p.day, p.hour, p.minute)
  return wall - Math.floor(instant_ms / 60_000) * 60_000
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
