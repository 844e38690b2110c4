// What POST /api/sync says back, checked before anything is believed: a captive portal's page is not an answer.
import type { Event } from '../event';
import type { Trouble } from './meta';

export type SyncAnswer = {
  readonly accepted: readonly string[];
  readonly rejected: readonly { readonly id: string; readonly why: Trouble }[];
  readonly clamped: Readonly<Record<string, string>>;
  readonly events: readonly Event[];
  readonly cursor: number;
  readonly more: boolean;
  readonly epoch: string;
  readonly server_time: string;
};

export type SyncRequest = {
  readonly cursor: number;
  readonly events: readonly Event[];
  readonly device_time: string;
  /** What stays on the phone when this call is answered in full. */
  readonly unsent?: number;
  readonly oldest_unsent_at?: string | null;
  readonly own?: boolean;
  /** The jobs whose events to give; left out: of every job. */
  readonly held?: readonly string[];
};

/** Why a call brought nothing. `cut`: no whole answer. `portal`: someone else answered. The rest: the server said so. */
export type Failure =
  | { readonly kind: 'cut' | 'portal' | 'too_many' | 'declined' | 'broken'; readonly trouble: Trouble; readonly retryAfterS?: number }
  | { readonly kind: 'revoked' | 'unknown'; readonly trouble: Trouble };

export type Outcome = { readonly ok: true; readonly answer: SyncAnswer } | { readonly ok: false; readonly failure: Failure };

const isObject = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
const isText = (value: unknown): value is string => typeof value === 'string';

export function readTrouble(value: unknown): Trouble | null {
  if (!isObject(value)) return null;
  const { code, message } = value;
  if (!isText(code) || !isText(message)) return null;
  return { code, message, do: isText(value['do']) ? value['do'] : '' };
}

/** The answer when it is whole and ours, else null. */
export function readAnswer(value: unknown): SyncAnswer | null {
  if (!isObject(value)) return null;
  const { accepted, rejected, events, cursor, more, epoch, server_time } = value;
  const clamped = value['clamped'] ?? {};
  if (!Array.isArray(accepted) || !accepted.every(isText)) return null;
  if (!Array.isArray(rejected) || !Array.isArray(events) || !isObject(clamped)) return null;
  if (typeof cursor !== 'number' || typeof more !== 'boolean' || !isText(epoch) || !isText(server_time)) return null;
  if (!events.every((event) => isObject(event) && isText(event['id']) && isText(event['job']) && isText(event['clock']))) return null;
  return {
    accepted,
    rejected: rejected.flatMap((entry: unknown) => readRejection(entry) ?? []),
    clamped: clamped as Record<string, string>,
    events: events as Event[],
    cursor, more, epoch, server_time,
  };
}

function readRejection(entry: unknown): { id: string; why: Trouble } | null {
  if (!isObject(entry) || !isText(entry['id'])) return null;
  const why = readTrouble(entry['why']) ?? { code: 'rejected', message: 'The server did not take this.', do: 'Keep a copy, then discard it.' };
  return { id: entry['id'], why };
}

type Plain = Exclude<Failure['kind'], 'revoked' | 'unknown'>;

const fail = (kind: Plain, code: string, message: string, what: string): Failure => ({
  kind,
  trouble: { code, message, do: what },
});

/** What an unusable response means. `body` is its parsed JSON, undefined when it was none. */
export function readFailure(status: number, body: unknown, retryAfter: string | null): Failure {
  const said = isObject(body) ? readTrouble(body['error']) : null;
  if (said?.code === 'device_revoked') return { kind: 'revoked', trouble: said };
  if (said && status === 401) return { kind: 'unknown', trouble: said };
  if (status === 413) return { kind: 'too_many', trouble: said ?? fail('too_many', 'too_many', 'Too much at once.', 'Sending less.').trouble };
  if (said) {
    const retryAfterS = retryAfter === null ? undefined : Number.parseInt(retryAfter, 10);
    return { kind: status >= 500 ? 'broken' : 'declined', trouble: said, ...(Number.isFinite(retryAfterS) ? { retryAfterS } : {}) };
  }
  if (status >= 500) return fail('broken', 'server_broken', `The server is in trouble (${status}).`, 'Nothing is lost. The phone tries again.');
  return fail('portal', 'portal', 'Something between this phone and the server answered instead.', 'Open the browser and log in to the Wi-Fi, or use mobile data.');
}

export const noAnswer: Failure = fail('cut', 'no_answer', 'No answer from the server.', 'Nothing is lost. The phone tries again.');
