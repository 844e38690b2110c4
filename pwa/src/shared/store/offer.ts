// One call to the server. It never throws for what the network does: the outcome says what happened.
import { noAnswer, readAnswer, readFailure, type Outcome, type SyncRequest } from './answer';

export type Fetch = (input: string, init?: RequestInit) => Promise<Response>;

const worthPacking = 1_500;

async function packed(text: string): Promise<{ body: BodyInit; headers: Record<string, string> }> {
  const headers: Record<string, string> = { 'Content-Type': 'application/json' };
  if (text.length < worthPacking || typeof CompressionStream === 'undefined') return { body: text, headers };
  const stream = new Blob([text]).stream().pipeThrough(new CompressionStream('gzip'));
  headers['Content-Encoding'] = 'gzip';
  return { body: await new Response(stream).arrayBuffer(), headers };
}

/** The JSON body; undefined when it is none. A JSON body that breaks off throws, like a lost connection. */
async function jsonOf(response: Response): Promise<unknown> {
  const text = await response.text();
  const meantAsJson = response.headers.get('Content-Type')?.includes('json') ?? false;
  try {
    return JSON.parse(text) as unknown;
  } catch (error) {
    if (meantAsJson) throw error;
    return undefined;
  }
}

export type Bounds = {
  /** For the whole call, reading the answer included. */
  readonly timeoutMs?: number;
  /** Events to ask for at most, where the line is too weak for a full answer. */
  readonly limit?: number | undefined;
};

/** Offers events and asks for news. */
export async function offer(fetcher: Fetch, token: string, request: SyncRequest, bounds: Bounds = {}): Promise<Outcome> {
  try {
    const { body, headers } = await packed(JSON.stringify(request));
    const response = await fetcher(bounds.limit === undefined ? '/api/sync' : `/api/sync?limit=${bounds.limit}`, {
      method: 'POST',
      body,
      headers: { ...headers, Authorization: `Bearer ${token}`, Accept: 'application/json' },
      redirect: 'manual',
      cache: 'no-store',
      credentials: 'omit',
      signal: AbortSignal.timeout(bounds.timeoutMs ?? 30_000),
    });
    const json = await jsonOf(response);
    const answer = response.status === 200 ? readAnswer(json) : null;
    if (answer) return { ok: true, answer };
    return { ok: false, failure: readFailure(response.status, json, response.headers.get('Retry-After')) };
  } catch {
    return { ok: false, failure: noAnswer }; // refused, cut off or out of time: all the same to the outbox
  }
}
