// The time of day that screens draw by: the phone's clock, put right by what the server said, every 15 s.
import { signal, type ReadonlySignal } from '@preact/signals';
import { clockOffsetMs, readWall } from '../sync/state';

const current = signal(new Date());
export const now: ReadonlySignal<Date> = current;

/** Right now, corrected. For stamping; screens read `now`. */
export function correctedNow(): Date {
  return new Date(readWall() + clockOffsetMs.value);
}

/** Starts the ticking; main calls it once. Hidden, it ticks slowly: for reminders, and to spare the battery. Returns how to stop. */
export function startTicking(everyMs = 15_000, hiddenMs = 60_000): () => void {
  const tick = (): void => {
    current.value = correctedNow();
  };
  const rate = (): number => (document.visibilityState === 'visible' ? everyMs : hiddenMs);
  tick();
  let timer = setInterval(tick, rate());
  const seen = (): void => {
    clearInterval(timer);
    timer = setInterval(tick, rate());
    if (document.visibilityState === 'visible') tick();
  };
  document.addEventListener('visibilitychange', seen);
  return () => {
    clearInterval(timer);
    document.removeEventListener('visibilitychange', seen);
  };
}
