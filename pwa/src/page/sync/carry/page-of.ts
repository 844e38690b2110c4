// A page of one job's entries, checked before anything is believed: a captive portal's page is none.
import type { Event } from '../../../shared/event';
import type { JobId } from '../../../shared/events';

export type Page = { readonly events: readonly Event[]; readonly cursor: number; readonly more: boolean; readonly epoch: string };

const isText = (value: unknown): value is string => typeof value === 'string';

/** The page when it is whole, of this job, and leads on; else null. */
export function readPage(value: unknown, job: JobId, after: number): Page | null {
  if (typeof value !== 'object' || value === null) return null;
  const { events, cursor, more, epoch } = value as Record<string, unknown>;
  if (!Array.isArray(events) || typeof cursor !== 'number' || typeof more !== 'boolean' || !isText(epoch)) return null;
  if (cursor < after || (more && cursor === after)) return null;
  return events.every((event: unknown) => isEventOf(event, job)) ? { events: events as Event[], cursor, more, epoch } : null;
}

function isEventOf(value: unknown, job: JobId): boolean {
  if (typeof value !== 'object' || value === null) return false;
  const { id, clock, job: of } = value as Record<string, unknown>;
  return isText(id) && isText(clock) && of === job;
}
