// The office's board: asked for every 5 s while someone looks at it, cached for when the line is down.
import { computed, signal, type ReadonlySignal } from '@preact/signals';
import { CallFailed } from './call';
import type { Board, Trouble } from './contract';
import { Cached } from './etag';

export type { Board, BoardJob } from './contract';

const everyMs = 5_000;
const cached = new Cached<Board>('board', '/api/board');
let timer: ReturnType<typeof setInterval> | undefined;

/** Goes up while someone reads `board`; that is what starts and stops the asking. */
const watched = signal(0, {
  watched() {
    void cached.open().then(poll);
    timer = setInterval(() => void poll(), everyMs);
  },
  unwatched() {
    clearInterval(timer);
  },
});
const failing = signal<Trouble | null>(null);

export const board: ReadonlySignal<Board | null> = computed(() => (watched.value, cached.value.value));

/** Why the board on the screen may be old; null when it is fresh. */
export const boardProblem: ReadonlySignal<Trouble | null> = failing;

async function poll(): Promise<void> {
  if (document.visibilityState === 'hidden') return;
  try {
    await cached.refresh();
    failing.value = null;
  } catch (error) {
    failing.value = error instanceof CallFailed ? error.trouble : { code: 'unexpected', message: String(error), do: '' };
  }
}
