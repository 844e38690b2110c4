// One thing at a time that can be taken back with one touch. The shell shows it; the record keeps the rest.
import { signal, type ReadonlySignal } from '@preact/signals';
import type { EventId, JobId } from '../../shared/events';
import { retract } from './journal';

export type UndoOffer = { readonly job: JobId; readonly event: EventId; readonly label: string; readonly until: number; readonly also: readonly EventId[] };

const lastsMs = 8_000;
const current = signal<UndoOffer | null>(null);
let timer: ReturnType<typeof setTimeout> | undefined;

export const undoOffer: ReadonlySignal<UndoOffer | null> = current;

/** Offers to take `event` back for 8 s, and what was written `also` as parts of it. `label` says what was done: "Forms ticked". */
export function offerUndo(job: JobId, event: EventId, label: string, also: readonly EventId[] = []): void {
  clearTimeout(timer);
  current.value = { job, event, label, until: Date.now() + lastsMs, also };
  timer = setTimeout(closeUndo, lastsMs);
}

export function closeUndo(): void {
  clearTimeout(timer);
  current.value = null;
}

/** Takes back what is on offer. */
export async function takeBack(): Promise<void> {
  const offered = current.value;
  if (!offered) return;
  closeUndo();
  for (const event of [offered.event, ...offered.also]) await retract(offered.job, event);
}
