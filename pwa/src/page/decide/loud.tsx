import type { JobView } from '../../shared/job';
import { Notice, sayMoment } from '../look';
import { gatherNotices } from '../now/watch';
import type { Timeline } from '../sync/contract';
import { t } from '../words';
import { sayNotice, toneOf } from './notice';

const aheadMs = 18 * 3_600_000;

/** What threatens concrete that lies there, from the evening before to the hour it comes: on the screens where the work is. */
export function Loud({ job, timeline, now }: { readonly job: JobView; readonly timeline: Timeline | null | undefined; readonly now: Date }) {
  if (!timeline || job.closed) return null;
  const zone = job.opened?.time_zone ?? 'UTC';
  const loud = gatherNotices(job, timeline, null).filter(({ warning }) => toneOf(warning) === 'stop' && Date.parse(warning.to) > now.getTime() && Date.parse(warning.from) < now.getTime() + aheadMs);
  return (
    <>
      {loud.map(({ warning, loads }) => (
        <Notice key={`${warning.code}${warning.from}`} tone="stop" title={`${t(`decide.loud.${warning.code}` as 'decide.loud.rain_on_placed')} ${sayMoment(new Date(warning.from), now, zone)}, ${t('now.notice.loads', { count: loads.length, loads: loads.join(', ') })}`}>
          <p>{sayNotice(warning, now, zone)}</p>
        </Notice>
      ))}
    </>
  );
}
