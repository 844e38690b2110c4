// Whether the phone thinks it has a network. It may be wrong; sync has the last word.
import { signal, type ReadonlySignal } from '@preact/signals';

const state = signal(typeof navigator === 'undefined' || navigator.onLine !== false);
export const online: ReadonlySignal<boolean> = state;

export function watchOnline(): void {
  addEventListener('online', () => { state.value = true; });
  addEventListener('offline', () => { state.value = false; });
}
