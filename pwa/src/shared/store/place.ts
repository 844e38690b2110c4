// How far this phone has read the company's log, and of which jobs.
import type { Carry } from './meta';

/** The server names no more jobs than this in one call. */
export const MOST_NAMED = 500;

/** `held` left out: of every job. */
export type Place = { readonly cursor: number; readonly held?: readonly string[] };

/** What to ask the server for: a list too long for one call is left out, and what it does not name is put aside on arrival. */
export function placeOf(carry: Carry | undefined, cursor: number | undefined): Place {
  if (!carry) return { cursor: cursor ?? 0 };
  return carry.held.length > MOST_NAMED ? { cursor: carry.cursor } : { cursor: carry.cursor, held: carry.held };
}

/**
 * Whether an answer to what was `asked` may move the cursor: it began where the log still stands, and told of every
 * job that is held now. A job that came to be held while the call was under way has its entries up to the old cursor.
 */
export function covers(asked: Place, carry: Carry | undefined, cursor: number | undefined): boolean {
  if (asked.cursor !== placeOf(carry, cursor).cursor) return false;
  return asked.held === undefined || carry?.held.every((job) => asked.held?.includes(job)) === true;
}
