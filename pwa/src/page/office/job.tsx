import type { JobId } from '../../shared/events';
import type { JobView } from '../../shared/job';
import { formatArea, formatVolume } from '../../shared/units';
import { LinkButton, Notice, Screen, sayMoment } from '../look';
import { units } from '../shell/preferences';
import { now } from '../shell/now';
import { t } from '../words';
import { notKept } from './acknowledge';
import { Checklists, Hours, Loads, Part, PlanPart } from './job-parts';
import { useJob, useTold } from './far-job';
import { ForecastState } from './forecast-state';
import { JobLog } from './log';
import { CallbackPart } from './lookback/callback-form';
import { TaughtPart } from './lookback/taught-part';
import { PhotosPart } from './photos';
import { RemindersPart } from './reminders';
import { phaseWords, zoneOf } from './say';
import './style.css';

/** One job as the office sees it: its hours, its reminders' life, its checklists, loads, plan and log. */
export function OfficeJobScreen({ job: id }: { job: JobId }) {
  const { job, events, problem } = useJob(id);
  const told = useTold(id);
  if (!job) {
    return (
      <Screen title={t('office.lost.title')} back="#/board">
        <p role="status">{problem ?? t('office.lost.words')}</p>
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
        <Hours job={job} told={told} now={now.value} />
        <RemindersPart job={job} told={told.reminders} now={now.value} />
        <Checklists job={job} />
        <Loads job={job} now={now.value} />
        <PlanPart job={job} />
        <CallbackPart job={job} />
        <TaughtPart job={job} />
        <PhotosPart job={job} now={now.value} />
        <ForecastPart job={job} />
        <JobLog job={job} now={now.value} given={events} />
      </div>
      <div class="actions">
        <LinkButton href={`#/job/${job.id}/${job.phase.replace('_', '-')}`}>
          {t('office.open_job')}
        </LinkButton>
      </div>
    </Screen>
  );
}

/** Which forecast the times rest on, how old it is, and how its sources stand. */
function ForecastPart({ job }: { job: JobView }) {
  return (
    <Part title={t('office.forecast')}>
      <ForecastState job={job.id as JobId} timeZone={zoneOf(job.id)} />
    </Part>
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
