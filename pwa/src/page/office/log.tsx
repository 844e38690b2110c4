import { useEffect, useState } from 'preact/hooks';
import type { Event } from '../../shared/event';
import type { JobView } from '../../shared/job';
import { Button, LinkButton, sayMoment } from '../look';
import { events } from '../log/journal';
import { outlook } from '../sync/outlook';
import { t } from '../words';
import { detailOf, kindWords } from './entry';
import { Part } from './job-parts';
import { personName, zoneOf } from './say';
import { sayError } from '../shell/trouble';

const FIRST_SHOWN = 20;

/** Everything that was logged, the newest first. The job's record tells each entry in full. */
export function JobLog({ job, now, given = null }: { job: JobView; now: Date; given?: readonly Event[] | null }) {
  const [all, setAll] = useState(false);
  const [kept, problem] = useEvents(job);
  const log = given ? [...given].reverse() : kept;
  const shown = all ? log : log.slice(0, FIRST_SHOWN);
  return (
    <Part title={t('office.log')} wide>
      {problem && <p role="alert">{problem}</p>}
      {log.length === 0 && !problem && <p>{t('office.log.none')}</p>}
      <ol class="bare office-log">
        {shown.map((event) => (
          <li key={event.id}>
            <span class="time">{sayMoment(new Date(event.at), now, zoneOf(job.id))}</span>
            <span>
              {[kindWords(event.kind), detailOf(event, job)].filter(Boolean).join(': ')}
              <span class="soft office-who">{personName(event.author, outlook.value)}</span>
            </span>
          </li>
        ))}
      </ol>
      <div class="row">
        {log.length > shown.length && (
          <Button onPress={() => setAll(true)}>{t('office.log.all', { count: log.length })}</Button>
        )}
        <LinkButton href={`#/job/${job.id}/record`}>{t('office.log.record')}</LinkButton>
      </div>
    </Part>
  );
}

/** The job's events, read again each time the job changes. */
function useEvents(job: JobView): [readonly Event[], string | null] {
  const [log, setLog] = useState<readonly Event[]>([]);
  const [problem, setProblem] = useState<string | null>(null);
  useEffect(() => {
    let current = true;
    events(job.id).then(
      (found) => {
        if (current) setLog([...found].reverse());
      },
      (error: unknown) => {
        if (current) setProblem(sayError(error));
      },
    );
    return () => {
      current = false;
    };
  }, [job]);
  return [log, problem];
}
