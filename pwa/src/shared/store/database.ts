// The phone's own database: what it holds, by table. Page and service worker open the same one.
import Dexie, { type Table } from 'dexie';
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
export type Raised = { readonly key: string; readonly at: string };
export type KeptCopy = { readonly id?: number; readonly at: string; readonly count: number; readonly text: string };

export class FieldDatabase extends Dexie {
  events!: Table<Event, string>;
  outbox!: Table<Waiting, string>;
  rejected!: Table<Rejected, string>;
  meta!: Table<{ key: string; value: unknown }, string>;
  photos!: Table<PhotoRecord, string>;
  photoChunks!: Table<PhotoChunk, [string, number]>;
  raised!: Table<Raised, string>;
  kept!: Table<KeptCopy, number>;

  constructor(name: string) {
    // strict: a transaction that says it is done is on the disk, not in a cache
    super(name, { chromeTransactionDurability: 'strict' });
    this.version(1).stores({
      events: 'id, job, device',
      outbox: 'id, clock',
      rejected: 'id',
      meta: 'key',
      photos: 'sha256, waiting',
      photoChunks: '[photo+index], photo',
      raised: 'key',
      kept: '++id',
    });
  }
}

export const DATABASE_NAME = 'slabtide';
