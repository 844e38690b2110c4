// How sync stands, for anyone who wants to show it. No work here, so that every room may read it.
import { computed, signal, type ReadonlySignal } from '@preact/signals';
import type { Trouble } from '../../shared/store/meta';
import { readGlance } from '../log/glance';
import { wall } from '../log/wall';
import type { Me } from './contract';

/** This phone's own clock, ms. */
export const readWall = (): number => wall.now();

export type SyncPhase = 'idle' | 'syncing' | 'offline' | 'problem';
export type SyncState = {
  readonly phase: SyncPhase;
  readonly lastOk: string | null;
  /** In plain words, in English: what is wrong. `trouble` has its stable code. */
  readonly problem: string | null;
  readonly trouble: Trouble | null;
  readonly clockOffsetMs: number;
  /** So far ahead the phone's clock jumped under somebody's eyes; unknown to the server yet. */
  readonly clockAheadMs?: number;
};

export const syncStateSignal = signal<SyncState>({ phase: 'idle', lastOk: null, problem: null, trouble: null, clockOffsetMs: 0 });
export const syncState: ReadonlySignal<SyncState> = syncStateSignal;
export const clockOffsetMs: ReadonlySignal<number> = computed(() => syncStateSignal.value.clockOffsetMs);

/** Before the database is open: who it was last. */
export const meSignal = signal<Me | null>(readGlance<Me>()?.me ?? null);
/** Who this phone belongs to; null before joining. */
export const me: ReadonlySignal<Me | null> = meSignal;
