// The few single facts beside the log, each under one key.
import type { IDBPObjectStore } from 'idb';
import { write, type FieldDatabase, type Open, type StoreName, type Stores } from './database';

/** An error as the server words it: a stable code, what is wrong, and what to do. */
/** `params`: what the words hold that another language needs; from an older server there are none. */
export type Trouble = { readonly code: string; readonly message: string; readonly do: string; readonly params?: Readonly<Record<string, string | number>> };

export type Session = {
  readonly token: string;
  readonly device: string;
  readonly person: string;
  readonly name: string;
  readonly role: 'crew' | 'foreman' | 'office';
  readonly company: { readonly id: string; readonly name: string };
  /** Set when the server said that this phone may no longer write. */
  readonly revoked?: boolean;
};

export type ClockState = { readonly ms: number; readonly counter: number };

/** After the entry with this clock the phone's own may have been set ahead by `byMs`; null: by nobody knows how much. */
export type Suspect = { readonly after: string; readonly byMs: number | null };

/**
 * The phone of a company of many jobs: every entry of the `held` ones up to the log's number `cursor` is in the
 * database, and no other job's are read from the log. Nothing here: all entries of all jobs up to `cursor` in `Meta`.
 */
export type Carry = { readonly held: readonly string[]; readonly cursor: number };

export type Meta = {
  session: Session;
  cursor: number;
  carry: Carry;
  /** The server came back from a backup once: what it has must be seen before it is taken as kept there. */
  restored: boolean;
  epoch: string;
  /** The company whose log this is; outlives a session. */
  company: string;
  /** Where this phone's hybrid clock stands. */
  clock: ClockState;
  offsetMs: number;
  /** Where the phone's clock may have been set, since the server last told the time. */
  suspects: readonly Suspect[];
  lastOk: string;
  /** Jobs opened here lately, the last one first. */
  lately: readonly string[];
  outlook: { readonly tag: string | null; readonly value: unknown };
  /** Times worked out on this phone, by job. */
  worked: unknown;
  board: { readonly tag: string | null; readonly value: unknown };
  language: string;
};

type MetaStore = IDBPObjectStore<Stores, ArrayLike<StoreName>, 'meta', IDBTransactionMode>;

export async function readMeta<K extends keyof Meta>(db: FieldDatabase, key: K): Promise<Meta[K] | undefined> {
  const row = await db.get('meta', key);
  return row?.value as Meta[K] | undefined;
}

export async function writeMeta<K extends keyof Meta>(db: FieldDatabase, key: K, value: Meta[K]): Promise<void> {
  await write(db, ['meta'], (tx) => putMeta(tx.objectStore('meta'), key, value));
}

/** Inside a transaction. */
export async function getMeta<K extends keyof Meta>(store: MetaStore, key: K): Promise<Meta[K] | undefined> {
  const row = await store.get(key);
  return row?.value as Meta[K] | undefined;
}

/** Inside a transaction. */
export async function putMeta<K extends keyof Meta>(store: Open<'meta'>, key: K, value: Meta[K]): Promise<void> {
  await store.put({ key, value });
}
