// Jobs and outlooks for the tests of the Now screen and the board. Hours count from 7 am in Chicago, 14 July.
import type { JobId } from '../../../pwa/src/shared/events';
import { viewJob, type JobView } from '../../../pwa/src/shared/job';
import type { JobOutlook, LoadTimeline, Outlook, Reminder } from '../../../pwa/src/page/sync/contract';

export const HOUR = 3_600_000;
export const start = Date.parse('2026-07-14T12:00:00Z');
export const at = (hours: number): Date => new Date(start + hours * HOUR);
export const iso = (hours: number): string => at(hours).toISOString();
export const when = (early: number, likely: number, late: number) => ({ early: iso(early), likely: iso(likely), late: iso(late) });

const leaf = { event: 'e', at: iso(0), author: 'p' };

/** A job as the phone reads it, with what is given put over an empty one. */
export function job(id: string, over: Record<string, unknown> = {}): JobView {
  const empty = viewJob({ job: id as JobId, set: {}, items: {} });
  const opened = { ...leaf, name: id, place: null, time_zone: 'America/Chicago', latitude_deg: 41, longitude_deg: -88, use: 'patio', customer: null };
  return { ...empty, name: id, opened, ...over } as JobView;
}

export const load = (id: string, number: number) => ({ ...leaf, id, number, placed: null, volume_m3: 6, batched_at: iso(0) });
export const bay = (id: string, of: string, steps: Record<string, unknown> = {}) => ({ ...leaf, id, load: of, steps, label: id });
export const mark = { start: leaf, end: leaf };
export const begun = { start: leaf, end: null };
export const order = (hours: number) => ({ ...leaf, pour_at: iso(hours), loads: 2, volume_m3: 12 });

/** A load's windows, moved by `by` hours: edge 2.2 to 3.9, texture 2.5 to 3.9, saw 10.5 to 19. */
export function loadTimeline(id: string, by = 0): LoadTimeline {
  const w = (opens: [number, number, number], closes: [number, number, number]) => ({
    opens: when(...(opens.map((h) => h + by) as [number, number, number])),
    closes: when(...(closes.map((h) => h + by) as [number, number, number])),
  });
  const hours = [0, 1, 2, 3, 4, 6, 12, 24];
  return {
    id,
    windows: {
      edge: w([1.9, 2.2, 2.6], [3.4, 3.9, 4.5]),
      texture: w([2.1, 2.5, 2.9], [3.4, 3.9, 4.5]),
      saw: w([9, 10.5, 12], [16, 19, 23]),
    },
    curve: hours.map((hour) => ({
      at: iso(by + hour), surface_temp_c: 25, mean_temp_c: 25, equivalent_age_h: hour, penetration_mpa: hour ** 3 / 60,
      strength_mpa: hour / 2, stress_ratio: 0.2, evaporation_kg_m2_h: hour === 3 ? 0.8 : 0.4,
    })),
  };
}

/** The same load, with the handbooks closing the saw after so many hours: where that is sooner, it counts. */
export const closedByHandbook = (load: LoadTimeline, hours: number): LoadTimeline => ({
  ...load, saw_practice: { opens: iso(7), closes: iso(hours), surface_drop: iso(hours), source: 'ACI 302.1R-15; FHWA-RD-91-079' },
});

export function jobOutlook(loads: readonly LoadTimeline[], over: Partial<JobOutlook> = {}): JobOutlook {
  return {
    computed_at: iso(3),
    weather: { source: 'file', label: 'station file', covers_from: iso(-12), covers_to: iso(72), noted: false },
    problem: null,
    timeline: { version: 1, loads, pace: null, slots: {}, warnings: [] },
    ...over,
  };
}

export function outlook(jobs: Record<string, JobOutlook>, reminders: readonly Reminder[] = []): Outlook {
  return {
    version: 1, server_time: iso(3), epoch: 'e', company: { id: 'c', name: 'Company' },
    me: { person: 'p', name: 'Ana', role: 'foreman', device: 'd', language: 'en' }, people: [], jobs, reminders,
  };
}

export function reminder(of: string, what: Reminder['what'], over: Partial<Reminder> = {}): Reminder {
  return {
    id: `${of}-${what}`, job: of as JobId, what, subject: '', stage: 'open', due: iso(26), opens: when(24, 26, 28), closes: null,
    expires: iso(90), state: 'sent', moved_from: null, acknowledged: null, title: { en: what, es: what }, words: { en: what, es: what },
    ...over,
  };
}
