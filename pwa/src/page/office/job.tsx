import type { JobId } from '../../shared/events';
import type { JobView } from '../../shared/job';
import { formatArea, formatVolume } from '../../shared/units';
import { LinkButton, Notice, Screen, sayMoment } from '../look';
import { jobView } from '../log/journal';
import { units } from '../shell/preferences';
import { now } from '../shell/now';
import { t } from '../words';
import { notKept } from './acknowledge';
import { Checklists, Hours, Loads, PlanPart } from './job-parts';
import { JobLog } from './log';
import { CallbackPart } from './lookback/callback-form';
import { TaughtPart } from './lookback/taught-part';
import { RemindersPart } from './reminders';
import { phaseWords, zoneOf } from './say';
import './style.css';

/** One job as the office sees it: its hours, its reminders' life, its checklists, loads, plan and log. */
export function OfficeJobScreen({ job: id }: { job: JobId }) {
  const job = jobView(id).value;
  if (!job) {
    return (
      <Screen title={t('office.lost.title')} back="#/board">
        <p>{t('office.lost.words')}</p>
      </Screen>
    );
  }
  return (
    <Screen title={job.name} back="#/board" under={<Facts job={job} />} wide>
      {notKept.value && (
        <Notice tone="stop" title={t('office.not_kept')} announce>
          {t('office.not_kept.words', { why: notKept.value })}
        </Notice>
      )}
      <div class="office-columns">
        <Hours job={job} now={now.value} />
        <RemindersPart job={job} now={now.value} />
        <Checklists job={job} />
        <Loads job={job} now={now.value} />
        <PlanPart job={job} />
        <CallbackPart job={job} />
        <TaughtPart job={job} />
        <JobLog job={job} now={now.value} />
      </div>
      <div class="actions">
        <LinkButton href={`#/job/${job.id}/${job.phase.replace('_', '-')}`}>
          {t('office.open_job')}
        </LinkButton>
      </div>
    </Screen>
  );
}

/** Where, which phase, when poured, how much: one line. */
function Facts({ job }: { job: JobView }) {
  const pour =
    job.order &&
    t('office.pour', { time: sayMoment(new Date(job.order.pour_at), now.value, zoneOf(job.id)) });
  const parts = [
    job.opened?.place,
    phaseWords(job.phase),
    pour,
    job.slab && formatArea(job.slab.area_m2, units.value),
    job.order && formatVolume(job.order.volume_m3, units.value),
  ];
  return <>{parts.filter(Boolean).join(' · ')}</>;
}
