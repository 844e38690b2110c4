/**
 * The hybrid logical clock, `{ms:015d}-{counter:04x}-{device}`: close to wall time, never behind what a device has
 * seen. Source: Kulkarni, Demirbas, Madeppa, Avva and Leone (2014). The server's twin reads the same vectors.
 */

const MAX_MS = 999_999_999_999_999
const MAX_COUNTER = 0xffff
const FORM = /^(\d{15})-([0-9a-f]{4})-([0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12})$/

export interface Reading {
  readonly ms: number
  readonly counter: number
  readonly device: string
}

/** Takes a clock apart. Throws RangeError when it has another form. */
export function readClock(text: string): Reading {
  const found = FORM.exec(text)
  if (!found) throw new RangeError(`"${text}" is not a clock: 15 digits, 4 hex digits, device id, joined by hyphens`)
  return { ms: Number(found[1]), counter: parseInt(found[2] ?? '', 16), device: found[3] ?? '' }
}

/** A clock as text. Throws RangeError outside 15 digits and 4 hex digits. */
export function writeClock(ms: number, counter: number, device: string): string {
  const fits = Number.isInteger(ms) && ms >= 0 && ms <= MAX_MS && counter >= 0 && counter <= MAX_COUNTER
  if (!fits) throw new RangeError(`no clock can hold ${ms} ms, counter ${counter}`)
  return `${String(ms).padStart(15, '0')}-${counter.toString(16).padStart(4, '0')}-${device}`
}

/** One device's clock. Wall time is always passed in, corrected by the measured offset. */
export class Clock {
  constructor(
    readonly device: string,
    public ms = 0,
    public counter = 0,
  ) {}

  /** The clock of a new event: later than every one before it, even when the wall clock went back. */
  tick(wallMs: number): string {
    const wall = Math.floor(wallMs)
    if (wall > this.ms) this.stand(wall, 0)
    else if (this.counter < MAX_COUNTER) this.counter += 1
    else this.stand(this.ms + 1, 0)
    return writeClock(this.ms, this.counter, this.device)
  }

  /** Having seen another's event: what this device writes next comes after it, and after the wall. */
  receive(remote: string, wallMs: number): void {
    const { ms, counter } = readClock(remote)
    if (this.isBefore(ms, counter)) this.stand(ms, counter)
    const wall = Math.floor(wallMs)
    if (wall > this.ms) this.stand(wall, 0)
  }

  /**
   * Comes back to the latest clock this device still holds, once clamped ones are rewritten. `held` must include what
   * is unsent: a clock set back below an unsent event would let an undo of that event sort before it.
   */
  lower(...held: readonly string[]): void {
    const latest = held.reduce((last, clock) => (clock > last ? clock : last), '')
    if (latest === '') return
    const { ms, counter } = readClock(latest)
    if (!this.isBefore(ms, counter)) this.stand(ms, counter)
  }

  private isBefore(ms: number, counter: number): boolean {
    return this.ms < ms || (this.ms === ms && this.counter < counter)
  }

  private stand(ms: number, counter: number): void {
    this.ms = ms
    this.counter = counter
  }
}
