// Keeps an entry from this room's forms, and says why where it can't.
import { signal, type ReadonlySignal } from '@preact/signals';
import type { Bodies, EventId, JobId, Kind } from '../../../shared/events';
import { record, retract } from '../../log/journal';
import { offerUndo } from '../../log/undo';
import { sayError } from '../../shell/trouble';

const failed = signal<string | null>(null);
/** Why the last entry could not be kept; null when it could. */
export const notKept: ReadonlySignal<string | null> = failed;

/** Records and offers to take it back. False when it could not be kept. */
export async function keep<K extends Kind>(job: JobId, kind: K, body: Bodies[K], label: string): Promise<boolean> {
  return attempt(async () => offerUndo(job, await record(job, kind, body), label));
}

/** Takes an entry back, and offers to bring it again. */
export async function takeOut(job: JobId, event: EventId, label: string): Promise<boolean> {
  return attempt(async () => offerUndo(job, await retract(job, event), label));
}

async function attempt(write: () => Promise<void>): Promise<boolean> {
  try {
    await write();
    failed.value = null;
    return true;
  } catch (error) {
    failed.value = sayError(error);
    return false;
  }
}
