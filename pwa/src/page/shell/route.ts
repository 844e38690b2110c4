// The address after # and what it means.
import { signal, type ReadonlySignal } from '@preact/signals';
import type { JobId } from '../../shared/events';

export const phaseSlugs = ['layout', 'ready', 'pour', 'texture', 'next-days', 'record'] as const;
export type PhaseSlug = (typeof phaseSlugs)[number];
export const listSlugs = ['forms', 'isolation', 'slope', 'debris', 'release', 'touch-up'] as const;
export type ListSlug = (typeof listSlugs)[number];

export const decideSlugs = ['what-if', 'pour-time'] as const;
export type DecideSlug = (typeof decideSlugs)[number];

const plainPlaces = ['jobs', 'new', 'now', 'board', 'settings', 'unsent', 'looking-back'] as const;

export type Route =
  | { at: 'home' }
  | { at: 'join'; code: string }
  | { at: 'jobs' }
  | { at: 'new' }
  | { at: 'unsent' }
  | { at: 'now' }
  | { at: 'board' }
  | { at: 'settings' }
  | { at: 'looking-back' }
  | { at: 'job'; job: JobId; phase: PhaseSlug | null }
  | { at: 'list'; job: JobId; list: ListSlug }
  | { at: 'decide'; job: JobId; what: DecideSlug }
  | { at: 'office'; job: JobId }
  | { at: 'reminder'; reminder: string }
  | { at: 'lost'; hash: string };

const oneOf = <T extends string>(options: readonly T[], text: string | undefined): T | undefined =>
  options.find((option) => option === text);

/** Reads a hash such as `#/job/{id}/pour`. What it does not know is `lost`, which the shell shows as such. */
export function readRoute(hash: string): Route {
  const parts = hash.replace(/^#?\/?/, '').split('/').filter(Boolean).map(decodePart);
  const [head, second, third, fourth] = parts;
  if (head === undefined) return { at: 'home' };
  if (head === 'join') return { at: 'join', code: second ?? '' };
  const plain = oneOf(plainPlaces, head);
  if (plain) return { at: plain };
  if (head === 'office' && second === 'reminder' && third) return { at: 'reminder', reminder: third };
  if (head === 'office' && second) return { at: 'office', job: second as JobId };
  if (head === 'job' && second) {
    if (third === undefined) return { at: 'job', job: second as JobId, phase: null };
    const phase = oneOf(phaseSlugs, third);
    if (phase) return { at: 'job', job: second as JobId, phase };
    const what = oneOf(decideSlugs, third);
    if (what) return { at: 'decide', job: second as JobId, what };
    const list = third === 'list' ? oneOf(listSlugs, fourth) : undefined;
    if (list) return { at: 'list', job: second as JobId, list };
  }
  return { at: 'lost', hash };
}

function decodePart(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}

const current = signal<Route>(readRoute(typeof location === 'undefined' ? '' : location.hash));
export const route: ReadonlySignal<Route> = current;

/** Follows the address bar. Called once by main. */
export function watchRoute(): void {
  addEventListener('hashchange', () => {
    current.value = readRoute(location.hash);
  });
}

/** Goes to a hash; `replace` leaves no step to go back to. */
export function go(hash: string, how: 'push' | 'replace' = 'push'): void {
  if (how === 'replace') {
    history.replaceState(null, '', hash);
    current.value = readRoute(hash);
    return;
  }
  location.hash = hash;
}
