// Puts the last look of the job list into the page's document.
import { LOOK_CACHE, LOOK_URL, withLook } from '../shared/first-look';

/** The answer with the look in it; the answer itself where no look is kept. */
export async function dressed(answer: Response): Promise<Response> {
  const kept = await caches.match(LOOK_URL, { cacheName: LOOK_CACHE });
  if (!kept) return answer;
  const headers = new Headers(answer.headers);
  headers.delete('Content-Length');
  headers.delete('Content-Encoding'); // what the cache gives is plain already
  return new Response(withLook(await answer.text(), await kept.text()), { status: answer.status, headers });
}
