/**
 * UUIDv7 (RFC 9562, section 5.7): sorts by time, and rises within a millisecond by a counter in the 12 bits of rand_a
 * (section 6.2, its first method: the number is from memory, not verified).
 */

const MAX_COUNTER = 0xfff

export type RandomBytes = (count: number) => Uint8Array

const fromCrypto: RandomBytes = (count) => crypto.getRandomValues(new Uint8Array(count))

/** Makes ids that keep rising, also when the wall clock goes back. */
export class Uuids {
  private ms = 0
  private counter = 0

  constructor(private readonly random: RandomBytes = fromCrypto) {}

  next(wallMs: number): string {
    if (wallMs > this.ms) {
      this.ms = Math.floor(wallMs)
      // Starts in the lower half, so that a millisecond holds at least 2,048 ids before it borrows the next.
      this.counter = word(this.random(2)) & 0x7ff
    } else if (this.counter < MAX_COUNTER) {
      this.counter += 1
    } else {
      this.ms += 1
      this.counter = word(this.random(2)) & 0x7ff
    }
    return write(this.ms, this.counter, this.random(8))
  }
}

function word(bytes: Uint8Array): number {
  return ((bytes[0] ?? 0) << 8) | (bytes[1] ?? 0)
}

function write(ms: number, counter: number, tail: Uint8Array): string {
  const time = ms.toString(16).padStart(12, '0')
  const bytes = Array.from(tail, (byte, index) => (index === 0 ? (byte & 0x3f) | 0x80 : byte))
  const rest = bytes.map((byte) => byte.toString(16).padStart(2, '0')).join('')
  const middle = `7${counter.toString(16).padStart(3, '0')}`
  return `${time.slice(0, 8)}-${time.slice(8)}-${middle}-${rest.slice(0, 4)}-${rest.slice(4)}`
}

const shared = new Uuids()

/** A new id from this running place. Name the sort of id: `newId<LoadId>()`. */
export function newId<Id extends string = string>(wallMs: number = Date.now()): Id {
  return shared.next(wallMs) as Id
}
