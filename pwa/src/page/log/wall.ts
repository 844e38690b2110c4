// The phone's clock, held against one that nobody can set. What is behind it all stands in docs/sync.md.
/** Less than this is the noise of two clocks. */
const NOISE_MS = 2_000;

/** By how much the clock jumped; `seen`: somebody looked at the page all the while, so that it was not asleep. */
export type Jump = { readonly byMs: number; readonly seen: boolean };

/**
 * Notices a clock that was set. Back is sure: nothing else sets it back. Ahead is not: on many phones the clock that
 * runs on stands still while the phone sleeps, which looks the same.
 */
export class Wall {
  onJump: (jump: Jump) => void = () => undefined;
  private apartMs: number;
  private seen: boolean;

  constructor(
    private readonly clock: () => number,
    private readonly runsOn: () => number,
    private readonly isSeen: () => boolean,
  ) {
    this.apartMs = clock() - runsOn();
    this.seen = isSeen();
  }

  /** The clock's reading, ms; a jump since the last one is told before this returns. */
  now(): number {
    const now = this.clock();
    const apartMs = now - this.runsOn();
    const byMs = Math.round(apartMs - this.apartMs);
    const seen = this.seen && this.isSeen();
    this.apartMs = apartMs;
    this.seen = this.isSeen();
    if (Math.abs(byMs) > NOISE_MS) this.onJump({ byMs, seen });
    return now;
  }

  /** The page went out of sight, if only for a moment. */
  hidden(): void {
    this.seen = false;
  }
}

export const wall = new Wall(() => Date.now(), () => performance.now(), () => typeof document !== 'undefined' && document.visibilityState === 'visible');
