// The field log as screens use it. One book per page; see book.ts for how it keeps its word.
import type { ReadonlySignal } from '@preact/signals';
import type { Event } from '../../shared/event';
import type { Bodies, EventId, JobId, Kind, PersonId } from '../../shared/events';
import type { JobState } from '../../shared/fold';
import type { JobView } from '../../shared/job';
import { Book, type Unsent } from './book';
import { openChannel } from '../../shared/store/channel';
import { keepCopy, type UnsentCopy } from './copy';
import { noteStorageError, storage } from './storage';
import { wall } from './wall';

export type { Unsent, UnsentCopy };
export { NotJoined } from './book';
export type { Rejected } from '../../shared/store/database';

export const channel = openChannel();
export const book = new Book(storage, channel, () => wall.now(), (error) => {
  if (!noteStorageError(error)) console.error(error);
});

/** Jobs that have been opened, newest first, closed ones last. */
export const jobs: ReadonlySignal<readonly JobView[]> = book.jobs;

/** One job; undefined until the phone knows it. */
export function jobView(id: JobId): ReadonlySignal<JobView | undefined> {
  return book.jobView(id);
}

/** One job's log, folded, as it stands; also of what is still being written. */
export function jobState(id: JobId): JobState {
  return book.jobState(id);
}

/** Who wrote to a job from then on, as far as this phone knows. */
export function authorsSince(id: JobId, sinceMs: number): ReadonlySet<PersonId> {
  return book.authorsSince(id, sinceMs);
}

/** Writes an event; resolves when it is on the disk. `at` is when it happened, now when left out. */
export function record<K extends Kind>(job: JobId, kind: K, body: Bodies[K], at?: Date): Promise<EventId> {
  return book.record(job, kind, body, at);
}

/** Takes an event back; retracting a retract brings it back again. */
export function retract(job: JobId, event: EventId): Promise<EventId> {
  return book.record(job, 'event.retracted', { event });
}

/** Every event of a job in its order, for the record. */
export function events(id: JobId): Promise<Event[]> {
  return book.events(id);
}

/** What the server does not have yet, and what it would not take. */
export const unsent: ReadonlySignal<Unsent> = book.unsent;

/** Throws away an event that the server would not take. */
export function discardRejected(id: EventId): Promise<void> {
  return book.discardRejected(id);
}

/** A copy of all unsent and rejected work, kept on the phone as well. Null when there is none. */
export function exportUnsent(): Promise<UnsentCopy | null> {
  return storage.run((db) => keepCopy(db, new Date().toISOString()));
}
