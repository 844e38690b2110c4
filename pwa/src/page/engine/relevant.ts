// What of a job its times and reminders rest on: when it changes, they are worked out anew.
import type { JobId } from '../../shared/events';
import type { JobView } from '../../shared/job';
import type { Outlook } from '../sync/contract';
import { isFar } from '../sync/far';
import { isOutdated, type WorkedHere } from '../sync/worked';

const known = new WeakMap<JobView, string>();

/** The same text for two views exactly when nothing that matters differs. Ticks, photos, notes and pins don't matter. */
export function restsOn(job: JobView): string {
  const found = known.get(job);
  if (found !== undefined) return found;
  const { opened, slab, mix, order, crew, loads, unticketed, checks, weather_days, weather_notes } = job;
  const { cuts_done, washes, colours, coats, acks, snoozes, closed } = job;
  const { covers, merged, products, sheet_tests, kept_slots, planned_cuts, test_cuts } = job;
  const areas = job.bays.map(({ load, area_m2, steps }) => [load, area_m2, steps.texture ?? null]);
  const pour = [opened, slab, mix, order, crew, areas, loads, unticketed, checks, weather_days, weather_notes, covers, merged];
  const after = [products, sheet_tests, kept_slots, planned_cuts, test_cuts];
  const text = JSON.stringify([pour, after, cuts_done, washes, colours, coats, acks, snoozes, closed, job.phase]);
  known.set(job, text);
  return text;
}

/** Whether the slab lies there and waits for its saw, so that its times get surer by the hour. */
export function waitsForSaw(job: JobView): boolean {
  return job.loads.length + job.unticketed.length > 0 && !job.cuts_done && !job.closed;
}

/** When the server was heard, ms. */
export const toldAt = (server: Outlook | null): number => Date.parse(server?.server_time ?? '') || 0;

/**
 * The jobs whose times this phone keeps right. Of one whose times stayed with the server it has no weather and nobody
 * asked for it, unless this phone's own entries wait here, or what it made of them is newer than the server's word.
 */
export function worthWorking(
  jobs: readonly JobView[],
  server: Outlook | null,
  worked: Readonly<Record<string, WorkedHere>>,
  waitsHere: (job: JobId) => boolean,
): readonly JobView[] {
  const isNewer = (job: JobId, mine = worked[job]): boolean => mine !== undefined && server !== null && !isOutdated(server, job, mine);
  return jobs.filter((job) => !isFar(server, job) || isNewer(job.id) || waitsHere(job.id));
}
