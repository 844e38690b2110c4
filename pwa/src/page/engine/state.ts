// How the engine on this phone stands, for whoever shows it. No work here.
import { signal } from '@preact/signals';
import type { Asked } from '../../engine-worker/contract';

export type Unable = 'wasm' | 'storage' | 'start';
export type EngineState =
  /** Not wanted here, or not looked at yet. */
  | { readonly at: 'off' }
  /** Bytes here and bytes in all. `asks`: data is dear on this line, so a person has to say so. */
  | { readonly at: 'getting' | 'waits' | 'asks'; readonly have: number; readonly all: number }
  | { readonly at: 'starting' }
  | { readonly at: 'ready' }
  /** It can't work here: the last synced times stay. */
  | { readonly at: 'unable'; readonly why: Unable };

export const engineState = signal<EngineState>({ at: 'off' });

/** Asks the engine here a foreman's question; null while it can't be asked. */
export const decider = signal<((asked: Asked) => Promise<unknown>) | null>(null);

/** Set by the engine's start: goes on where it stopped, at a person's word. */
export const goOn = signal<(() => void) | null>(null);
