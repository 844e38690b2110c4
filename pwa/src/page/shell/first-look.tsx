// Keeps the job list as plain marks for the next start, with the moment it was true. No states of sending: those would be old.
import { effect } from '@preact/signals';
import { render } from 'preact';
import { dressAll, LOOK_CACHE, LOOK_URL, type Look } from '../../shared/first-look';
import { lineOf, type JobLine } from '../log/glance';
import { book, jobs } from '../log/journal';
import { me } from '../sync/state';
import { language, t } from '../words';
import { JobList } from './job-list';
import { correctedNow } from './now';
import { hand, light, textSize } from './preferences';
import style from './first-look.css?inline';

const MOST = 40;

function Marks({ lines, asOf }: { readonly lines: readonly JobLine[]; readonly asOf: Date }) {
  return (
    <div class="shell">
      <header class="shell-head no-print"><p class="shell-sync">{t('shell.loadingAsOf', { when: sayMoment(asOf) })}</p></header>
      <main class="shell-main">
        <section class="look-screen" aria-label={t('shell.jobs.title')}>
          <header class="look-screen-head"><h1 data-screen-title>{t('shell.jobs.title')}</h1></header>
          <div class="look-screen-body"><JobList lines={lines} /></div>
        </section>
      </main>
    </div>
  );
}

const sayMoment = (moment: Date): string => moment.toLocaleString(language.value, { day: 'numeric', month: 'short', hour: 'numeric', minute: '2-digit' });

/** The marks of the list as it stood then, its texts escaped by the drawing itself. */
export function lookOf(lines: readonly JobLine[], asOf: Date): string {
  const apart = document.createElement('div');
  render(<Marks lines={lines} asOf={asOf} />, apart);
  const marks = apart.innerHTML;
  render(null, apart);
  return marks;
}

/** Follows the list, and tells its age anew when the app is put away; when nobody has joined, nothing is kept. */
export function keepFirstLook(onTrouble: (error: unknown) => void): () => void {
  if (!('caches' in globalThis)) return () => undefined;
  let kept: string | null = null;
  let keeping: Promise<void> = Promise.resolve();
  const put = (lines: readonly JobLine[] | null): void => {
    const look = lines && { marks: lookOf(lines, correctedNow()), style, root: rootNow() };
    keeping = keeping.then(() => keep(look)).catch(onTrouble); // one after the other: the last one stays
  };
  const follow = effect(() => {
    if (!book.ready.value) return;
    const lines = me.value ? linesNow() : null;
    const seen = JSON.stringify([lines, language.value, light.value, textSize.value, hand.value]);
    if (seen === kept) return;
    kept = seen;
    queueMicrotask(() => put(lines)); // once the choices stand on the document
  });
  const putAway = (): void => {
    if (document.visibilityState === 'hidden' && book.ready.peek() && me.peek()) put(linesNow());
  };
  document.addEventListener('visibilitychange', putAway);
  return () => {
    follow();
    document.removeEventListener('visibilitychange', putAway);
  };
}

const linesNow = (): JobLine[] => jobs.value.slice(0, MOST).map(lineOf);

function rootNow(): Look['root'] {
  const { lang, dataset } = document.documentElement;
  const chosen = { 'data-theme': dataset['theme'], 'data-text': dataset['text'], 'data-hand': dataset['hand'] };
  return { lang, ...Object.fromEntries(Object.entries(chosen).filter((entry): entry is [string, string] => entry[1] !== undefined)) };
}

async function keep(look: Look | null): Promise<void> {
  const cache = await caches.open(LOOK_CACHE);
  if (look === null) await cache.delete(LOOK_URL);
  else await cache.put(LOOK_URL, new Response(JSON.stringify(look), { headers: { 'Content-Type': 'application/json' } }));
  await dressAll(look);
}
