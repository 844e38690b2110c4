// The phone's own database: what it holds, by store. Page and service worker open the same one.
import { openDB, unwrap, type DBSchema, type IDBPDatabase, type IDBPObjectStore, type IDBPTransaction, type StoreNames } from 'idb';
import type { Event } from '../event';
import type { Trouble } from './meta';

/** An event not yet answered for by the server. It leaves only when a JSON answer names its id. */
export type Waiting = { readonly id: string; readonly clock: string; readonly since: string };

/** An event the server would not take, kept on the phone with its reason. */
export type Rejected = { readonly id: string; readonly event: Event; readonly why: Trouble; readonly at: string };

export type PhotoRecord = {
  readonly sha256: string;
  readonly mime: string;
  readonly size: number;
  readonly chunks: number;
  readonly at: string;
  /** 1 while the server has not answered for it, 0 after. */
  readonly waiting: 0 | 1;
};
export type PhotoChunk = { readonly photo: string; readonly index: number; readonly bytes: ArrayBuffer };
/** A reminder this phone has raised by itself, and the time it was due then. */
export type Raised = { readonly key: string; readonly due: string };
export type KeptCopy = { readonly id?: number; readonly at: string; readonly count: number; readonly text: string };

export interface Stores extends DBSchema {
  events: { key: string; value: Event; indexes: { job: string; device: string } };
  outbox: { key: string; value: Waiting; indexes: { clock: string } };
  rejected: { key: string; value: Rejected };
  meta: { key: string; value: { readonly key: string; readonly value: unknown } };
  photos: { key: string; value: PhotoRecord; indexes: { waiting: number } };
  photoChunks: { key: [string, number]; value: PhotoChunk; indexes: { photo: string } };
  raised: { key: string; value: Raised };
  kept: { key: number; value: KeptCopy };
}

export type FieldDatabase = IDBPDatabase<Stores>;
export type StoreName = StoreNames<Stores>;
export type Writing<Names extends StoreName> = IDBPTransaction<Stores, Names[], 'readwrite'>;

/** One store of a running write. */
export type Open<Name extends StoreName> = IDBPObjectStore<Stores, ArrayLike<StoreName>, Name, 'readwrite'>;

export const DATABASE_NAME = 'slabtide';
const layout = 1;

export type Ends = {
  /** Another tab needs a newer layout. */
  readonly outdated: () => void;
  /** The browser dropped the connection. */
  readonly lost: () => void;
};

export function openDatabase(name: string, ends: Ends): Promise<FieldDatabase> {
  return openDB<Stores>(name, layout, {
    upgrade(db) {
      const events = db.createObjectStore('events', { keyPath: 'id' });
      events.createIndex('job', 'job');
      events.createIndex('device', 'device');
      db.createObjectStore('outbox', { keyPath: 'id' }).createIndex('clock', 'clock');
      db.createObjectStore('rejected', { keyPath: 'id' });
      db.createObjectStore('meta', { keyPath: 'key' });
      db.createObjectStore('photos', { keyPath: 'sha256' }).createIndex('waiting', 'waiting');
      db.createObjectStore('photoChunks', { keyPath: ['photo', 'index'] }).createIndex('photo', 'photo');
      db.createObjectStore('raised', { keyPath: 'key' });
      db.createObjectStore('kept', { keyPath: 'id', autoIncrement: true });
    },
    blocking: (_old, _new, event) => {
      (event.target as IDBDatabase).close();
      ends.outdated();
    },
    terminated: ends.lost,
  });
}

/**
 * One strict transaction: when this resolves, what `work` wrote is on the disk. `work` may await nothing but the
 * transaction's own requests. A failure rolls all of it back and says why, as the transaction puts it.
 */
export async function write<Names extends StoreName, T>(
  db: FieldDatabase, names: Names[], work: (tx: Writing<Names>) => Promise<T>,
): Promise<T> {
  const tx = db.transaction(names, 'readwrite', { durability: 'strict' });
  try {
    const result = await work(tx);
    await tx.done;
    return result;
  } catch (error) {
    await abandon(tx);
    throw tx.error ?? error;
  }
}

type BulkStore = { readonly name: string };

/** Puts many rows without waiting for each: one that fails ends the transaction, which `write` reports. */
export function putAll<Row>(store: BulkStore, rows: readonly Row[]): void {
  const raw = unwrap(store as never) as unknown as IDBObjectStore;
  for (const row of rows) raw.put(row);
}

/** Deletes many keys, as `putAll` puts. */
export function deleteAll(store: BulkStore, keys: readonly IDBValidKey[]): void {
  const raw = unwrap(store as never) as unknown as IDBObjectStore;
  for (const key of keys) raw.delete(key);
}

/** Ends a failed transaction and waits until it has ended. */
async function abandon(tx: { abort(): void; readonly done: Promise<void> }): Promise<void> {
  try {
    tx.abort();
  } catch {
    // it has ended already
  }
  await tx.done.catch(() => undefined);
}
