// How much to send at once: halves when a call brings nothing, grows when it does, slower near the size that failed last.
export const SMALLEST = 5;
export const LARGEST = 500;
const LARGEST_NEWS = 2_000;

export class Pace {
  private size: number;
  private failedAt = Infinity;
  private failures = 0;
  /** How many of the oldest events to step over, so that a poisoned few can't block the rest. */
  skip = 0;

  constructor(start = 200) {
    this.size = start;
  }

  /** Events to offer. */
  get batch(): number {
    return Math.max(SMALLEST, Math.min(LARGEST, Math.floor(this.size)));
  }

  /** Events to ask for; undefined = as many as the server gives. */
  get limit(): number | undefined {
    return this.batch >= LARGEST || this.failedAt === Infinity ? undefined : Math.min(LARGEST_NEWS, this.batch * 4);
  }

  /** The line is too weak for a full answer: send first, fetch news when all is sent. */
  get weak(): boolean {
    return this.limit !== undefined;
  }

  /** How long to wait before the next try, given a share of chance 0..1. */
  waitMs(chance: number): number {
    if (this.failures === 0) return 0;
    if (this.size > SMALLEST) return 100 + 100 * chance;
    return Math.min(15_000, 500 * 2 ** Math.min(this.failures, 6)) * (0.5 + chance / 2);
  }

  succeeded(): void {
    this.failures = 0;
    this.skip = 0;
    const next = this.size * 2;
    this.size = next >= this.failedAt ? this.size * 1.2 : next;
    if (this.size >= this.failedAt * 1.5) this.failedAt = Infinity;
    this.size = Math.min(LARGEST, this.size);
  }

  /** `sent` is how many events went with the call that failed; `waiting` how many there are. */
  failed(sent: number, waiting: number): void {
    this.failures += 1;
    this.failedAt = Math.max(SMALLEST, this.size);
    if (this.size <= SMALLEST && sent > 0 && this.failures % 3 === 0) {
      this.skip = waiting > this.skip + SMALLEST ? this.skip + SMALLEST : 0;
    }
    this.size = Math.max(SMALLEST, this.size / 2);
  }
}
