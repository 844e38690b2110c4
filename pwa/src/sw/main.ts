// The service worker: the shell without a signal, notifications, and nothing else.
import { cacheNames } from 'workbox-core';
import { cleanupOutdatedCaches, PrecacheController, PrecacheRoute, type PrecacheEntry } from 'workbox-precaching';
import { NavigationRoute, registerRoute } from 'workbox-routing';
import { openChannel } from '../shared/store/channel';
import { DATABASE_NAME } from '../shared/store/database';
import { readMeta } from '../shared/store/meta';
import { Steady } from '../shared/store/steady';
import { acknowledge } from './acknowledge';
import { engineFile, isEngineFile } from './engine-files';
import { dropOldPages, keepPage, keptPage, openWays } from './first-look';
import { local, quietly, shown, type Aim } from './shown';
import { words, type Language } from './words';

declare const self: ServiceWorkerGlobalScope & { readonly __WB_MANIFEST: (PrecacheEntry | string)[] };

const shell = new PrecacheController();
shell.addToCacheList(self.__WB_MANIFEST);
const document = '/index.html';
const mark = new URL(shell.getCacheKeyForURL(document) ?? document, location.href).searchParams.get('__WB_REVISION__') ?? 'only';
const page = shell.createHandlerBoundToURL(document);

self.addEventListener('install', (event) => event.waitUntil(install(event)));
// '/' is a navigation's
registerRoute(new PrecacheRoute(shell, { directoryIndex: '' }));
registerRoute(new NavigationRoute(async (asked) => (await keptPage(mark)) ?? page(asked), { denylist: [/^\/api\//] }));
registerRoute(isEngineFile, engineFile);

const storage = new Steady(DATABASE_NAME);
const channel = openChannel();

// A new version waits until the person says so; the first one takes the page that installed it.
self.addEventListener('message', (event) => {
  if ((event.data as { type?: unknown } | null)?.type === 'take-over') event.waitUntil(self.skipWaiting());
});
self.addEventListener('activate', (event) => event.waitUntil(activate(event)));
cleanupOutdatedCaches();

async function install(event: ExtendableEvent): Promise<void> {
  await shell.install(event);
  const plain = await shell.matchPrecache(document);
  if (!plain) throw new Error(`${document} is not in the list of this version`);
  await keepPage(mark, plain);
  await openWays(event, mark, cacheNames.precache);
}

async function activate(event: ExtendableEvent): Promise<void> {
  await shell.activate(event);
  await dropOldPages(mark);
  await self.clients.claim();
}

async function language(): Promise<Language> {
  try {
    return (await storage.run((db) => readMeta(db, 'language'))) === 'es' ? 'es' : 'en';
  } catch {
    return 'en'; // storage out of reach: the notification matters more than its language
  }
}

self.addEventListener('push', (event) => event.waitUntil(show(event.data?.text() ?? null)));

async function show(payload: string | null): Promise<void> {
  const loud = shown(payload, await language());
  const { title, options } = quietly(loud, await standing(loud.options.tag), await isWatched());
  await self.registration.showNotification(title, options);
}

/** What is on the screen already under the same tag. */
async function standing(tag: string | undefined): Promise<unknown[]> {
  return tag ? (await self.registration.getNotifications({ tag })).map(({ data }) => data as unknown) : [];
}

async function isWatched(): Promise<boolean> {
  const windows = await self.clients.matchAll({ type: 'window', includeUncontrolled: true });
  return windows.some(({ visibilityState }) => visibilityState === 'visible');
}

self.addEventListener('notificationclick', (event) => {
  const aim = event.notification.data as Aim | null;
  event.notification.close();
  const wanted = event.action === 'acknowledge' && aim?.reminder && aim.job;
  event.waitUntil(wanted ? take(aim.reminder ?? '', aim.job ?? '') : open(local(aim?.navigate ?? null)));
});

async function take(reminder: string, job: string): Promise<void> {
  let outcome: string;
  try {
    outcome = await acknowledge(storage, (input, init) => fetch(input, init), channel, reminder, job, Date.now());
  } catch (error) {
    console.error(error);
    outcome = 'lost';
  }
  if (outcome === 'sent' || outcome === 'kept') return;
  const { title, notKept } = words[await language()];
  await self.registration.showNotification(title, { body: notKept, data: { navigate: '#/', reminder, job } satisfies Aim });
}

async function open(hash: string): Promise<void> {
  const windows = await self.clients.matchAll({ type: 'window', includeUncontrolled: true });
  const first = windows[0];
  if (!first) {
    await self.clients.openWindow(`/${hash}`);
    return;
  }
  first.postMessage({ type: 'navigate', hash });
  await first.focus();
}
