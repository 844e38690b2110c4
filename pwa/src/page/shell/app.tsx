// The app: who is here decides between joining and working; the route decides the screen.
import { useEffect } from 'preact/hooks';
import { book } from '../log/journal';
import { me, syncState } from '../sync/state';
import { t } from '../words';
import { StorageBar } from './bars';
import { Guard } from './broken';
import { Frame } from './frame';
import { JoinScreen } from './join';
import { go, route } from './route';
import { homeOf, screenOf } from './screens';
import { isShutOut } from './trouble';

export function App() {
  if (!book.ready.value && !me.value) return <Opening />;
  return <Guard at={location.hash}>{me.value ? <Working /> : <Joining />}</Guard>;
}

function Opening() {
  return (
    <main class="shell-opening">
      <p role="status">{t('shell.loading')}</p>
      <StorageBar />
    </main>
  );
}

function Joining() {
  const here = route.value;
  return (
    <main class="shell-main">
      <StorageBar />
      <JoinScreen code={here.at === 'join' ? here.code : ''} onJoined={goHome} />
    </main>
  );
}

function goHome(): void {
  go(homeOf(me.value?.role ?? 'crew'), 'replace');
}

function Working() {
  const here = route.value;
  const shutOut = me.value?.revoked === true || isShutOut(syncState.value.trouble);
  const atHome = here.at === 'home' || (here.at === 'join' && !shutOut);
  useEffect(() => {
    if (atHome) goHome();
  }, [atHome]);
  const address = JSON.stringify(here);
  useEffect(() => showTitle(address), [address]);
  if (atHome) return null;
  return (
    <Frame>
      <Guard at={address}>
        {here.at === 'join' ? <JoinScreen code={here.code} onJoined={goHome} /> : screenOf(here)}
      </Guard>
    </Frame>
  );
}

let shown: string | null = null;

/** After a change of screen: its name on the tab, the reading place at its heading, the scroll at its top. */
function showTitle(address: string): void {
  const heading = document.querySelector<HTMLElement>('[data-screen-title]');
  const name = heading?.textContent?.trim();
  document.title = name ? `${name} · Slabtide` : 'Slabtide';
  const first = shown === null;
  shown = address;
  if (first) return;
  document.querySelector('.shell-main')?.scrollTo(0, 0);
  heading?.focus({ preventScroll: true });
}
