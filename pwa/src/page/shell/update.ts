// A new version waits until the person takes it. Only the tab that took it reloads; typed text is kept as drafts.
import { computed, signal, type ReadonlySignal } from '@preact/signals';
import { go } from './route';

const waiting = signal<ServiceWorker | null>(null);
export const updateReady: ReadonlySignal<boolean> = computed(() => waiting.value !== null);
const setReady = (worker: ServiceWorker): void => {
  waiting.value = worker;
};

const lookEveryMs = 60 * 60 * 1_000;
let taken = false;

/** Registers the worker and watches for a newer one. */
export async function startWorker(): Promise<void> {
  if (!('serviceWorker' in navigator)) return;
  navigator.serviceWorker.addEventListener('message', (event: MessageEvent<{ type?: string; hash?: string } | null>) => {
    if (event.data?.type === 'navigate' && event.data.hash) go(event.data.hash);
  });
  navigator.serviceWorker.addEventListener('controllerchange', () => {
    if (taken) location.reload();
  });
  const registration = await navigator.serviceWorker.register('/sw.js', { updateViaCache: 'none' });
  if (registration.waiting && navigator.serviceWorker.controller) setReady(registration.waiting);
  registration.addEventListener('updatefound', () => watchNew(registration.installing));
  const look = (): void => {
    if (document.visibilityState === 'visible') registration.update().catch(() => undefined); // no signal: next time
  };
  setInterval(look, lookEveryMs);
  document.addEventListener('visibilitychange', look);
}

function watchNew(worker: ServiceWorker | null): void {
  worker?.addEventListener('statechange', () => {
    if (worker.state === 'installed' && navigator.serviceWorker.controller) setReady(worker);
  });
}

/** Takes the new version: it steps in and this tab reloads. */
export function takeUpdate(): void {
  taken = true;
  const worker = waiting.value;
  if (worker?.state === 'installed') worker.postMessage({ type: 'take-over' });
  else location.reload(); // another tab took it already
}
