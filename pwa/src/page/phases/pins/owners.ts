/** Whose pins are whose. No DOM. */
import type { PersonId } from '../../../shared/events'
import type { Pin } from '../../../shared/job'

/** all, mine, free (nobody's), or a person's id. */
export type Whose = 'all' | 'mine' | 'free' | PersonId

export interface Share {
  readonly whose: Whose
  readonly count: number
}

export const ownerOf = (pin: Pin): PersonId | null => pin.owner?.person ?? null

export function isWhose(pin: Pin, whose: Whose, me: string | null): boolean {
  const owner = ownerOf(pin)
  if (whose === 'all') return true
  if (whose === 'mine') return owner !== null && owner === me
  return whose === 'free' ? owner === null : owner === whose
}

/** What there is to choose from: all, mine, nobody's, and everyone else who has one open. */
export function shares(open: readonly Pin[], me: string | null): Share[] {
  const others = [...new Set(open.map(ownerOf))].filter((owner): owner is PersonId => owner !== null && owner !== me)
  const choices: Whose[] = ['all', 'mine', 'free', ...others]
  return choices.map((whose) => ({ whose, count: open.filter((pin) => isWhose(pin, whose, me)).length }))
}
