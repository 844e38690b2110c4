// Keeps the job list as plain marks for the next start. No times and no states of sending: those would be old.
import { effect } from '@preact/signals';
import { render } from 'preact';
import { LOOK_CACHE, LOOK_URL } from '../../shared/first-look';
import { lineOf, type JobLine } from '../log/glance';
import { book, jobs } from '../log/journal';
import { me } from '../sync/state';
import { t } from '../words';
import { JobList } from './jobs';

const MOST = 40;

function Look({ lines }: { readonly lines: readonly JobLine[] }) {
  return (
    <div class="shell">
      <header class="shell-head no-print"><p class="shell-sync">{t('shell.loading')}</p></header>
      <main class="shell-main">
        <section class="look-screen" aria-label={t('shell.jobs.title')}>
          <header class="look-screen-head"><h1 data-screen-title>{t('shell.jobs.title')}</h1></header>
          <div class="look-screen-body"><JobList lines={lines} /></div>
        </section>
      </main>
    </div>
  );
}

/** The marks of the list, its texts escaped by the drawing itself. */
export function lookOf(lines: readonly JobLine[]): string {
  const apart = document.createElement('div');
  render(<Look lines={lines} />, apart);
  const marks = apart.innerHTML;
  render(null, apart);
  return marks;
}

/** Follows the list; when nobody has joined, nothing is kept. `onTrouble` hears of a cache that is full or gone. */
export function keepFirstLook(onTrouble: (error: unknown) => void): () => void {
  if (!('caches' in globalThis)) return () => undefined;
  let kept: string | null = null;
  return effect(() => {
    const look = book.ready.value && me.value ? lookOf(jobs.value.slice(0, MOST).map(lineOf)) : null;
    if (!book.ready.value || look === kept) return;
    kept = look;
    keep(look).catch(onTrouble);
  });
}

async function keep(look: string | null): Promise<void> {
  const cache = await caches.open(LOOK_CACHE);
  if (look === null) await cache.delete(LOOK_URL);
  else await cache.put(LOOK_URL, new Response(look, { headers: { 'Content-Type': 'text/html; charset=utf-8' } }));
}
