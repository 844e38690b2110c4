// How far this phone's clock is from the server's: the answer is taken to be made half way between asking and hearing.
const slowestMs = 10_000;
const noiseMs = 2_000;
const rememberedSamples = 8;

export class OffsetMeter {
  private samples: { readonly offsetMs: number; readonly tripMs: number; readonly at: number }[] = [];

  /** The offset to add to the phone's clock, ms; 0 within the noise; null when the trip was too slow to tell. */
  read(serverMs: number, sentAt: number, heardAt: number): number | null {
    const tripMs = heardAt - sentAt;
    if (!Number.isFinite(serverMs) || tripMs < 0 || tripMs > slowestMs) return null;
    const offsetMs = serverMs - (sentAt + tripMs / 2);
    this.forgetAfterJump(offsetMs, tripMs);
    this.samples = [...this.samples.slice(1 - rememberedSamples), { offsetMs, tripMs, at: heardAt }];
    const best = this.samples.reduce((one, other) => (other.tripMs < one.tripMs ? other : one));
    return Math.abs(best.offsetMs) < noiseMs ? 0 : Math.round(best.offsetMs);
  }

  /** A person who sets the clock makes the old samples wrong. */
  private forgetAfterJump(offsetMs: number, tripMs: number): void {
    this.samples = this.samples.filter((sample) => Math.abs(sample.offsetMs - offsetMs) <= sample.tripMs / 2 + tripMs / 2 + 500);
  }
}
