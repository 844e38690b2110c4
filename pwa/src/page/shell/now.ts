// The time of day that screens draw by: the phone's clock, put right by what the server said, every 15 s.
import { signal, type ReadonlySignal } from '@preact/signals';
import { clockOffsetMs } from '../sync/state';

const current = signal(new Date());
export const now: ReadonlySignal<Date> = current;

/** Right now, corrected. For stamping; screens read `now`. */
export function correctedNow(): Date {
  return new Date(Date.now() + clockOffsetMs.value);
}

/** Starts the ticking; main calls it once. Returns how to stop. */
export function startTicking(everyMs = 15_000): () => void {
  const tick = (): void => {
    current.value = correctedNow();
  };
  tick();
  const timer = setInterval(tick, everyMs);
  const seen = (): void => {
    if (document.visibilityState === 'visible') tick();
  };
  document.addEventListener('visibilitychange', seen);
  return () => {
    clearInterval(timer);
    document.removeEventListener('visibilitychange', seen);
  };
}
