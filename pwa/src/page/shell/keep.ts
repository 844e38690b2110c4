// Whether the browser may clear this phone's work away, and how to stand the app on the home screen.
import { signal, type ReadonlySignal } from '@preact/signals';

export type Keeping = 'unknown' | 'kept' | 'at risk';
const state = signal<Keeping>('unknown');
export const keeping: ReadonlySignal<Keeping> = state;

/** Asks the browser to keep the database for good. Browsers grant it without a question, or not at all. */
export async function askToKeep(): Promise<void> {
  const { storage } = navigator;
  if (!storage?.persist) {
    state.value = 'at risk';
    return;
  }
  const kept = (await storage.persisted()) || (await storage.persist());
  state.value = kept ? 'kept' : 'at risk';
}

type InstallPrompt = Event & { prompt(): Promise<unknown> };
const offered = signal<InstallPrompt | null>(null);

/** The browser offers to install, so a button may. */
export const canInstall: ReadonlySignal<unknown> = offered;

export function watchInstall(): void {
  addEventListener('beforeinstallprompt', (event) => {
    event.preventDefault();
    offered.value = event as InstallPrompt;
  });
  addEventListener('appinstalled', () => { offered.value = null; });
}

export async function install(): Promise<void> {
  await offered.value?.prompt();
  offered.value = null;
  await askToKeep();
}

/** Whether it already runs as an app of its own. */
export function isInstalled(): boolean {
  return matchMedia('(display-mode: standalone)').matches || (navigator as { standalone?: boolean }).standalone === true;
}
