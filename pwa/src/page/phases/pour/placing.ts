/** Putting right when a load was placed. No DOM. */
import { placingRefusal, type PlacingRefusal } from './ticket'

export interface PlacingTimes {
  readonly from: string
  readonly to: string
}

export type PlacingPut = { readonly write: PlacingTimes } | { readonly refused: PlacingRefusal }

/**
 * Both times as they are being put right. Two may be changed before the log's new view is drawn, and one alone may be
 * impossible until the other follows: each change adds to the latest of both, and the pair is judged.
 */
export class PlacingEdit {
  private times: PlacingTimes
  private seen: PlacingTimes
  private written: PlacingTimes[] = []

  constructor(placed: PlacingTimes) {
    this.times = bare(placed)
    this.seen = placed
  }

  /** What the log's view holds now. Our own changes come back through it one by one; a change from elsewhere wins. */
  follow(placed: PlacingTimes): void {
    if (same(placed, this.seen)) return
    this.seen = placed
    const echo = this.written.findIndex((times) => same(times, placed))
    this.written = this.written.slice(echo + 1)
    if (echo < 0) this.drop()
  }

  /** Changes one end: what to write now, or why it can't be. */
  put(end: 'from' | 'to', at: string, batched_at: string, now: Date): PlacingPut {
    this.times = { ...this.times, [end]: at }
    const refused = placingRefusal(batched_at, this.times.from, this.times.to, now)
    if (refused) return { refused }
    this.written.push(this.times)
    return { write: this.times }
  }

  /** Back to what the log holds: a change could not be kept. */
  drop(): void {
    this.times = bare(this.seen)
    this.written = []
  }
}

/** The times alone: the log's view also tells who wrote them and when, which is no part of an entry. */
function bare({ from, to }: PlacingTimes): PlacingTimes {
  return { from, to }
}

function same(a: PlacingTimes, b: PlacingTimes): boolean {
  return a.from === b.from && a.to === b.to
}
