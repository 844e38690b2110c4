// The office's board: a page of it, asked for every 2 s while someone looks at it; the first page is kept for when the line is down.
import { computed, signal, type ReadonlySignal } from '@preact/signals';
import { readMeta, writeMeta } from '../../shared/store/meta';
import { storage } from '../log/storage';
import { call, CallFailed, jsonOf } from './call';
import type { Board, Trouble } from './contract';

export type { Board, BoardJob } from './contract';

const everyMs = 2_000;
/** How long a person is left to type before the server is asked. */
const typingMs = 250;
export const FIRST_PAGE = 60;
const firstQuery = `limit=${FIRST_PAGE}`;

type Answer = { readonly query: string; readonly tag: string | null; readonly board: Board };

const asked = signal(firstQuery);
const answer = signal<Answer | null>(null);
const failing = signal<Trouble | null>(null);
let timer: ReturnType<typeof setInterval> | undefined;
let typing: ReturnType<typeof setTimeout> | undefined;
let under: { readonly query: string; readonly stop: AbortController } | null = null;

/** Goes up while someone reads `board`; that is what starts and stops the asking. */
const watched = signal(0, {
  watched() {
    void open().then(poll, poll);
    timer = setInterval(() => void poll(), everyMs);
  },
  unwatched() {
    clearInterval(timer);
  },
});

export const board: ReadonlySignal<Board | null> = computed(() => (watched.value, answer.value?.board ?? null));

/** Whether what is shown is what was asked for; until then the page picks among what it has. */
export const boardIsAsAsked: ReadonlySignal<boolean> = computed(() => answer.value?.query === asked.value);

/** Why the board on the screen may be old; null when it is fresh. */
export const boardProblem: ReadonlySignal<Trouble | null> = failing;

export type BoardAsk = { readonly search: string; readonly phase: string; readonly show: string; readonly sort: string; readonly down: boolean };

/** Asks for another part of the board, or for it in another order. */
export function askBoard(ask: BoardAsk, limit: number): void {
  const query = queryOf(ask, limit);
  if (query === asked.value) return;
  asked.value = query;
  clearTimeout(typing);
  typing = setTimeout(() => void poll(), typingMs);
}

/** What differs from the board as it opens, as a query. */
export function queryOf({ search, phase, show, sort, down }: BoardAsk, limit: number): string {
  const query = new URLSearchParams({ limit: String(limit) });
  if (search.trim()) query.set('search', search.trim().slice(0, 80));
  if (phase) query.set('phase', phase);
  if (show !== 'all') query.set('show', show);
  if (sort !== 'urgent') query.set('sort', sort);
  if (down) query.set('down', 'true');
  return query.toString();
}

async function open(): Promise<void> {
  if (answer.value) return;
  const kept = await storage.run((db) => readMeta(db, 'board'));
  if (kept && !answer.value) answer.value = { query: firstQuery, tag: kept.tag, board: kept.value as Board };
}

/** Asks, unless the very same is being asked already: a slow answer must not be thrown away for the next. */
async function poll(): Promise<void> {
  const query = asked.value;
  if (document.visibilityState === 'hidden' || under?.query === query) return;
  under?.stop.abort();
  const mine = (under = { query, stop: new AbortController() });
  try {
    await refresh(query, mine.stop.signal);
    if (under === mine) failing.value = null;
  } catch (error) {
    if (under === mine) failing.value = error instanceof CallFailed ? error.trouble : { code: 'unexpected', message: String(error), do: '' };
  } finally {
    if (under === mine) under = null;
  }
}

async function refresh(query: string, superseded: AbortSignal): Promise<void> {
  const tag = answer.value?.query === query ? answer.value.tag : null;
  const response = await call(`/api/board?${query}`, { tag });
  if (response.status === 304 || superseded.aborted) return;
  const value = await jsonOf<Board>(response);
  if (superseded.aborted) return;
  answer.value = { query, tag: response.headers.get('ETag'), board: value };
  if (query === firstQuery) await storage.run((db) => writeMeta(db, 'board', { tag: response.headers.get('ETag'), value }));
}
