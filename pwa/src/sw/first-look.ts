// The document of this version, and the way past this worker: a browser that can answers from the caches by itself,
// which spares a cold start the worker's own.
import { ENGINE_CACHE, ENGINE_PATH } from '../shared/engine-cache';
import { dressOne, keptLook, PAGE_CACHES, PAGE_URL, PLAIN_URL } from '../shared/first-look';

/** As the Service Worker standard's static routes have it; not yet in every library of types. */
type Way = { readonly condition: { readonly urlPattern: { readonly pathname: string; readonly search?: string }; readonly requestMode?: string; readonly requestMethod: string }; readonly source: { readonly cacheName: string } };
type Installing = { readonly addRoutes?: (ways: readonly Way[]) => Promise<void> };

/** Where the document of the version marked so is kept. */
export const pageCache = (mark: string): string => `${PAGE_CACHES}${mark}`;

/** Keeps this version's document, with the last look in it. */
export async function keepPage(mark: string, plain: Response): Promise<void> {
  const shelf = await caches.open(pageCache(mark));
  await shelf.put(PLAIN_URL, plain);
  await dressOne(shelf, await keptLook());
}

/** Before the worker answers: where the browser finds the document, the shell's files and the engine's. */
export async function openWays(event: object, mark: string, shell: string): Promise<void> {
  const installing = event as Installing;
  if (!installing.addRoutes) return;
  const file = (pathname: string, cacheName: string): Way => ({ condition: { urlPattern: { pathname }, requestMethod: 'GET' }, source: { cacheName } });
  try {
    await installing.addRoutes([
      { condition: { urlPattern: { pathname: PAGE_URL, search: '' }, requestMode: 'navigate', requestMethod: 'GET' }, source: { cacheName: pageCache(mark) } },
      file('/assets/*', shell),
      file(`${ENGINE_PATH}*`, ENGINE_CACHE),
    ]);
  } catch (error) {
    console.warn(error); // the worker answers, as elsewhere: later, but the same
  }
}

/** Documents of versions before this one go. */
export async function dropOldPages(mark: string): Promise<void> {
  const old = (await caches.keys()).filter((name) => name.startsWith(PAGE_CACHES) && name !== pageCache(mark));
  await Promise.all(old.map((name) => caches.delete(name)));
}

/** The document as it was dressed last; undefined when it is gone. */
export function keptPage(mark: string): Promise<Response | undefined> {
  return caches.match(PAGE_URL, { cacheName: pageCache(mark) });
}
