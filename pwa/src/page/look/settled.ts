import { useEffect, useState } from 'preact/hooks';

let down = false;
const waiting = new Set<() => void>();

function release(): void {
  down = false;
  // the click that belongs to this release comes first
  setTimeout(() => {
    for (const go of waiting) go();
    waiting.clear();
  });
}

if (typeof addEventListener === 'function') {
  addEventListener('pointerdown', () => { down = true; }, { capture: true, passive: true });
  addEventListener('pointerup', release, { capture: true, passive: true });
  addEventListener('pointercancel', release, { capture: true, passive: true });
}

/** `words`, but not while a finger is down: what comes up when a field is left must not move the button just touched. */
export function useSettled<T>(words: T): T {
  const [shown, setShown] = useState(words);
  useEffect(() => {
    const show = () => setShown(words);
    if (down) waiting.add(show);
    else show();
    return () => void waiting.delete(show);
  }, [words]);
  return shown;
}
