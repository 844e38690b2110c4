/** One truck written twice: two phones without a signal log the same load. No DOM. */
import type { Load, Note } from './job'

export type Alike = 'number' | 'ticket' | 'batch'

export interface Double {
  /** Written first, and the other. */
  readonly first: Load
  readonly second: Load
  /** What they have in common. */
  readonly alike: readonly Alike[]
}

/** Two phones read the same ticket within that [ms]. */
const SAME_BATCH_MS = 10 * 60_000
/** Volumes on the same ticket, typed in yards or metres, agree to this [m³]. */
const SAME_VOLUME_M3 = 0.02

/** Every pair of loads that may be one truck and that nobody has told apart yet, in the order they were written. */
export function findDoubles(loads: readonly Load[], notes: readonly Pick<Note, 'text'>[]): Double[] {
  const apart = toldApart(notes)
  const written = [...loads].sort((a, b) => (a.at < b.at || (a.at === b.at && a.id < b.id) ? -1 : 1))
  return written.flatMap((second, i) =>
    written.slice(0, i).flatMap((first): Double[] => {
      const alike = whatIsAlike(first, second)
      return alike.length === 0 || apart.has(pairKey(first.number, second.number)) ? [] : [{ first, second, alike }]
    }),
  )
}

function whatIsAlike(a: Load, b: Load): Alike[] {
  const alike: Alike[] = []
  if (a.number === b.number) alike.push('number')
  if (plainTicket(a.ticket) !== '' && plainTicket(a.ticket) === plainTicket(b.ticket)) alike.push('ticket')
  const together = Math.abs(Date.parse(a.batched_at) - Date.parse(b.batched_at)) <= SAME_BATCH_MS
  const sameVolume = Math.abs(a.volume_m3 - b.volume_m3) <= SAME_VOLUME_M3
  // One person who writes two tickets of one batch time means two trucks: the form refuses a number twice on one phone.
  if (together && sameVolume && (alike.length > 0 || (a.author !== b.author && !bothNumbered(a, b)))) alike.push('batch')
  return alike
}

/** Both tickets carry a number, and not the same one: two trucks. */
function bothNumbered(a: Load, b: Load): boolean {
  return plainTicket(a.ticket) !== '' && plainTicket(b.ticket) !== ''
}

function plainTicket(ticket: string | null): string {
  return (ticket ?? '').toLowerCase().replace(/[^a-z0-9]/g, '').replace(/^0+/, '')
}

/**
 * "Two trucks", said for good: a note that everyone gets and can read. It holds in either language by its two numbers
 * and the sign between them, so the words around them may change.
 */
const TOLD_APART = /^\D*(\d{1,2}) ≠ \D*(\d{1,2})\b/

function toldApart(notes: readonly Pick<Note, 'text'>[]): Set<string> {
  return new Set(
    notes.flatMap(({ text }) => {
      const [, a, b] = TOLD_APART.exec(text) ?? []
      return a && b ? [pairKey(Number(a), Number(b))] : []
    }),
  )
}

function pairKey(a: number, b: number): string {
  return a < b ? `${a}-${b}` : `${b}-${a}`
}

/** Fields the kept ticket may take from the double. */
export const TAKEN = ['ticket', 'slump_mm', 'concrete_temp_c', 'water_added_l', 'water_allowed_l', 'colour_bags', 'plant', 'admixtures'] as const
export type Taken = (typeof TAKEN)[number]

/** What the kept ticket lacks and the double has. */
export function lacking(kept: Load, double: Load): Taken[] {
  return TAKEN.filter((field) => kept[field] === null && double[field] !== null)
}

/** Where the two differ, to be shown side by side. */
export function differing(a: Load, b: Load): (Taken | 'number' | 'batched_at' | 'volume_m3')[] {
  const differs = <F extends keyof Load>(field: F): boolean => JSON.stringify(a[field]) !== JSON.stringify(b[field])
  return (['number', 'batched_at', 'volume_m3', ...TAKEN] as const).filter(differs)
}
