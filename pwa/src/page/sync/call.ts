// Calls to the server other than sync: with this phone's token, JSON only, errors in the server's own words.
import { readTrouble } from '../../shared/store/answer';
import { readMeta, type Trouble } from '../../shared/store/meta';
import { storage } from '../log/storage';

/** The call brought no usable answer. `status` is 0 when none came at all. */
export class CallFailed extends Error {
  override readonly name = 'CallFailed';
  /** `body`: the whole answer, where it was JSON. */
  constructor(readonly trouble: Trouble, readonly status: number, readonly body: unknown = null) {
    super(trouble.message);
  }
}

/** What this phone finds by itself; its words stand under its code. */
const own = (code: 'no_answer' | 'portal' | 'not_joined'): Trouble => ({ code, message: code, do: '' });
const strange = own('portal');

export type Call = { readonly method?: string; readonly body?: unknown; readonly bytes?: BodyInit; readonly mime?: string; readonly tag?: string | null; readonly open?: boolean };

/** One call. Throws CallFailed when the network or the server says no; 304 is no failure. */
export async function call(path: string, options: Call = {}): Promise<Response> {
  const headers: Record<string, string> = { Accept: 'application/json' };
  if (!options.open) headers['Authorization'] = `Bearer ${await token()}`;
  if (options.tag) headers['If-None-Match'] = options.tag;
  if (options.body !== undefined) headers['Content-Type'] = 'application/json';
  if (options.mime) headers['Content-Type'] = options.mime;
  const body = options.body === undefined ? options.bytes : JSON.stringify(options.body);
  const response = await reach(path, {
    method: options.method ?? 'GET', headers, redirect: 'manual', credentials: 'omit', cache: 'no-store',
    signal: AbortSignal.timeout(60_000),
    ...(body === undefined ? {} : { body }),
  });
  if (response.ok || response.status === 304) return response;
  const told = await jsonIn(response);
  throw new CallFailed(troubleIn(told), response.status, told);
}

/** A call whose answer is JSON. */
export async function callJson<T>(path: string, options: Call = {}): Promise<T> {
  return jsonOf<T>(await call(path, options));
}

/** The JSON of an answer; somebody else's page is no answer. */
export async function jsonOf<T>(response: Response): Promise<T> {
  try {
    return (await response.json()) as T;
  } catch {
    throw new CallFailed(strange, response.status);
  }
}

async function reach(path: string, init: RequestInit): Promise<Response> {
  try {
    return await fetch(path, init);
  } catch {
    throw new CallFailed(own('no_answer'), 0);
  }
}

async function token(): Promise<string> {
  const session = await storage.run((db) => readMeta(db, 'session'));
  if (!session) throw new CallFailed(own('not_joined'), 0);
  return session.token;
}

async function jsonIn(response: Response): Promise<unknown> {
  try {
    return (await response.json()) as unknown;
  } catch {
    return null;
  }
}

function troubleIn(body: unknown): Trouble {
  return (typeof body === 'object' && body !== null && 'error' in body ? readTrouble(body.error) : null) ?? strange;
}
