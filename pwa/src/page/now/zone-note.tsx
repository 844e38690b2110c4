import { computed } from '@preact/signals';
import type { JobView } from '../../shared/job';
import { formatDuration } from '../../shared/units';
import { zoneOffset_ms } from '../../shared/zone';
import { jobs } from '../log/journal';
import { now } from '../shell/now';
import { t } from '../words';

const MINUTE_MS = 60_000;

/** By how many minutes clocks in a zone are ahead of this phone's; 0 where they show the same. */
export function zoneAhead_min(timeZone: string, at: Date): number {
  return zoneOffset_ms(at.getTime(), timeZone) / MINUTE_MS + at.getTimezoneOffset();
}

/** Whether the open jobs lie in several zones: then each says its own, else the head of Now says it once. */
export const severalZones = computed(() => new Set(jobs.value.filter((job) => !job.closed).map((job) => job.opened?.time_zone)).size > 1);

/** Where the slab's clocks show another time than this phone, whose times these are. Nothing where they agree. */
export function ZoneNote({ job }: { job: JobView }) {
  const zone = job.opened?.time_zone;
  const ahead = zone ? zoneAhead_min(zone, now.value) : 0;
  if (!zone || ahead === 0) return null;
  const place = zone.slice(zone.lastIndexOf('/') + 1).replaceAll('_', ' ');
  return <p class="soft">{t(ahead > 0 ? 'now.zone.ahead' : 'now.zone.behind', { place, span: formatDuration(Math.abs(ahead)) })}</p>;
}
