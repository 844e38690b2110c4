// The browser took this phone's database away while the app was shut: what is known of what was in it.
import { signal, type ReadonlySignal } from '@preact/signals';
import { readGlance, type Glance } from './glance';

export type Emptied = { readonly count: number; readonly oldestAt: string | null };

const key = 'slabtide.emptied';
const found = signal<Emptied | null>(read());
/** Until someone joins again: how much had waited to be sent. Null when nothing was taken away. */
export const emptied: ReadonlySignal<Emptied | null> = found;

function read(): Emptied | null {
  try {
    return JSON.parse(localStorage.getItem(key) ?? 'null') as Emptied | null;
  } catch {
    return null; // no storage at all: then nothing was kept to be told of
  }
}

function keep(value: Emptied | null): void {
  found.value = value;
  try {
    if (value) localStorage.setItem(key, JSON.stringify(value));
    else localStorage.removeItem(key);
  } catch {
    // told in this page's life at least
  }
}

/** Somebody had joined here, and the database is new. */
export function noteEmptied(last: Glance<unknown> | null = readGlance()): void {
  if (last) keep(last.unsent ?? { count: 0, oldestAt: null });
}

export const forgetEmptied = (): void => keep(null);
