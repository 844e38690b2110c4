/** What a touch on the pins' plan does, and since when. No DOM. */
import { BOUNCE_MS } from '../bounce'

/** pin: a touch sets a pin's spot. out: asked for, a touch chooses the side one leaves by, once. */
export type PlanTask = 'pin' | 'out'

export interface PlanTurn {
  readonly task: PlanTask
  /** When what lies under a finger last changed [ms]. */
  readonly since_ms: number
}

export const AT_FIRST: PlanTurn = { task: 'pin', since_ms: -Infinity }

export function heeds({ since_ms }: PlanTurn, now_ms: number): boolean {
  return now_ms - since_ms >= BOUNCE_MS
}

/** The side chosen, and the choice before it, which one touch brings back. */
export interface WayChoice {
  readonly side: number | null
  readonly before: number | null
}

/** Chooses a side over the one left by so far; the same side again changes nothing. */
export function chooseWay(kept: WayChoice, shown: number, side: number): WayChoice {
  return side === shown ? kept : { side, before: shown }
}

/** The choice before, with the one taken back as what another touch brings again. */
export function takeWayBack(kept: WayChoice): WayChoice {
  return kept.before === null ? kept : { side: kept.before, before: kept.side }
}
