import type { JobView } from '../../shared/job';
import { LinkButton } from '../look';
import { me } from '../sync/state';
import { t } from '../words';

/** Ways to the what-if and to the hours; the crew's phones have neither. */
export function DecideLinks({ job, hours }: { readonly job: JobView; readonly hours?: boolean }) {
  if (me.value?.role === 'crew' || job.closed) return null;
  return (
    <div class="actions no-print">
      {hours && job.loads.length === 0 && <LinkButton href={`#/job/${job.id}/pour-time`}>{t('decide.pourTime')}</LinkButton>}
      <LinkButton href={`#/job/${job.id}/what-if`}>{t('decide.whatIf')}</LinkButton>
    </div>
  );
}
