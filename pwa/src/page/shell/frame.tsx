// The frame around every screen: where the work stands, the screen, and the ways to go.
import type { ComponentChildren } from 'preact';
import { book, unsent } from '../log/journal';
import type { Role } from '../sync/contract';
import { me, syncState } from '../sync/state';
import { formatDuration } from '../../shared/units';
import { t, type WordKey } from '../words';
import { ReminderBanner, StorageBar, UndoBar, UpdateBar } from './bars';
import { SignalBanner } from '../phases/signal';
import { now } from './now';
import { online } from './online';
import { route, type Route } from './route';
import { clockIsWrong, syncLine } from './sync-line';
import './style.css';

type Way = { readonly at: Route['at']; readonly href: string; readonly key: WordKey };

const jobsWay: Way = { at: 'jobs', href: '#/jobs', key: 'shell.way.jobs' };
const nowWay: Way = { at: 'now', href: '#/now', key: 'shell.way.now' };
const boardWay: Way = { at: 'board', href: '#/board', key: 'shell.way.board' };
const settingsWay: Way = { at: 'settings', href: '#/settings', key: 'shell.way.settings' };

export const waysOf = (role: Role): readonly Way[] => {
  if (role === 'crew') return [jobsWay, nowWay, settingsWay];
  if (role === 'foreman') return [nowWay, jobsWay, boardWay, settingsWay];
  return [boardWay, jobsWay, settingsWay];
};

export function Frame({ children }: { readonly children: ComponentChildren }) {
  const here = route.value;
  const way = here.at === 'job' || here.at === 'list' || here.at === 'new' ? 'jobs' : here.at === 'office' || here.at === 'looking-back' ? 'board' : here.at;
  return (
    <div class="shell">
      <a class="shell-skip" href="#shell-main" onClick={skip}>{t('shell.skip')}</a>
      <header class="shell-head no-print"><SyncLine /></header>
      <main id="shell-main" class="shell-main" tabIndex={-1}>
        <div class="shell-bars no-print">
          <StorageBar />
          <SignalBanner />
          <UpdateBar />
          <ReminderBanner />
        </div>
        {children}
      </main>
      <div class="shell-foot no-print">
        <UndoBar />
        <nav class="shell-ways" aria-label={t('shell.ways')}>
          {waysOf(me.value?.role ?? 'crew').map(({ at, href, key }) => (
            <a key={at} href={href} aria-current={at === way ? 'page' : undefined}>{t(key)}</a>
          ))}
        </nav>
      </div>
    </div>
  );
}

/** "20 min"; what is younger than a minute is not counted. */
export const sayAge = (minutes: number): string => (minutes < 1 ? t('shell.sync.underMinute') : formatDuration(minutes));

function skip(event: Event): void {
  event.preventDefault(); // the hash is the route
  document.getElementById('shell-main')?.focus();
}

/** "3 unsent, oldest 20 min": leads to what is unsent. */
export function SyncLine() {
  if (!book.ready.value) return <p class="shell-sync">{t('shell.loading')}</p>;
  const { tone, key, oldestMin, count } = syncLine({ unsent: unsent.value, sync: syncState.value, online: online.value, now: now.value });
  const { clockOffsetMs: offset, clockAheadMs: ahead = 0 } = syncState.value;
  return (
    <>
      <a class={`shell-sync shell-sync-${tone}`} href="#/unsent">
        <span aria-hidden="true" class="shell-sync-mark" />
        <span role="status" aria-live={tone === 'plain' ? 'off' : 'polite'}>{t(key, { count, oldest: sayAge(oldestMin ?? 0) })}</span>
      </a>
      {clockIsWrong(offset) && (
        <p class="shell-clock" role="status">
          {t(offset > 0 ? 'shell.clock.slow' : 'shell.clock.fast', { by: formatDuration(Math.abs(offset) / 60_000) })}
        </p>
      )}
      {ahead > 0 && <p class="shell-clock" role="status">{t('shell.clock.ahead', { by: formatDuration(ahead / 60_000) })}</p>}
    </>
  );
}
