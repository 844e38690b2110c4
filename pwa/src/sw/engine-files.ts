// The engine's files come from the cache the page filled with them, each checked; until then from the network.
import { ENGINE_CACHE, ENGINE_PATH } from '../shared/engine-cache';

export const isEngineFile = ({ url, sameOrigin }: { url: URL; sameOrigin: boolean }): boolean => sameOrigin && url.pathname.startsWith(ENGINE_PATH);

export async function engineFile({ request }: { request: Request }): Promise<Response> {
  const kept = await caches.match(request.url, { cacheName: ENGINE_CACHE, ignoreVary: true });
  return kept ?? fetch(request);
}
