// Starts the page: draws at once, then opens the log, then syncs.
import { effect, untracked } from '@preact/signals';
import { render } from 'preact';
import { OF_THE_LOOK } from '../shared/first-look';
import { keepGlance } from './log/glance';
import { jobs, unsent } from './log/journal';
import { noteStorageError, storageTrouble } from './log/storage';
import { checkPush } from './push/subscription';
import { raiseReminders } from './push/reminders';
import { App } from './shell/app';
import { followPreferences, tellLanguage } from './shell/appearance';
import { askToKeep, watchInstall } from './shell/keep';
import { startTicking } from './shell/now';
import { watchOnline } from './shell/online';
import { watchRoute } from './shell/route';
import { fetchRooms } from './shell/screens';
import { startWorker } from './shell/update';
import { readSession } from './sync/session';
import { me } from './sync/state';
import { startSync } from './sync/sync';
import { followLanguage, language, loadFirstWords } from './words';

followPreferences();
watchRoute();
watchOnline();
watchInstall();
startTicking();
addEventListener('unhandledrejection', (event) => {
  if (noteStorageError(event.reason)) event.preventDefault();
});

followLanguage((error) => console.error(error));

const place = document.getElementById('app');
start().catch((error: unknown) => {
  console.error(error);
  if (!noteStorageError(error)) storageTrouble.value = 'lost';
});

async function start(): Promise<void> {
  const log = readSession();
  log.catch(() => undefined); // looked at below, once there are words to say it with
  await loadFirstWords(language.peek());
  await hasStyle();
  place?.replaceChildren(); // the last look of the job list, kept in the document with all it was drawn with
  for (const one of document.querySelectorAll(`[${OF_THE_LOOK}]`)) one.remove();
  if (place) render(<App />, place);
  await log;
  keepGlance(() => (me.value ? { me: me.value, jobs: jobs.value, unsent: { count: unsent.value.count, oldestAt: unsent.value.oldestAt } } : null));
  whenIdle(() => void fetchRooms());
  whenIdle(() => void import('./shell/first-look').then(({ keepFirstLook }) => keepFirstLook((error) => console.warn(error))).catch((error: unknown) => console.error(error)));
  raiseReminders();
  if (import.meta.env.PROD) startWorker().catch((error: unknown) => console.error(error));
  await startSync();
  whenIdle(() => void import('./engine').then(({ startEngine }) => startEngine()).catch((error: unknown) => console.error(error)));
  tellLanguage();
  effect(() => {
    if (!me.value) return;
    untracked(() => Promise.all([askToKeep(), checkPush()])).catch((error: unknown) => console.error(error));
  });
}

/** Where the sheet was asked for after the first look, it may not be there yet. One that can't be had is not waited for long. */
function hasStyle(): Promise<unknown> | undefined {
  const link = document.querySelector<HTMLLinkElement>('link[rel=stylesheet]');
  if (!link || link.sheet) return undefined;
  return new Promise((done) => {
    link.addEventListener('load', done);
    setTimeout(done, 3_000);
  });
}

function whenIdle(work: () => void): void {
  if ('requestIdleCallback' in globalThis) requestIdleCallback(work, { timeout: 3_000 });
  else setTimeout(work, 500);
}
