import { useEffect, useState } from 'preact/hooks';
import type { Event } from '../../shared/event';
import type { JobView } from '../../shared/job';
import { Button, sayMoment } from '../look';
import { events } from '../log/journal';
import { outlook } from '../sync/outlook';
import { t } from '../words';
import { Part } from './job-parts';
import { personName, zoneOf } from './say';

const FIRST_SHOWN = 20;

/** Everything that was logged, the newest first. */
export function JobLog({ job, now }: { job: JobView; now: Date }) {
  const [all, setAll] = useState(false);
  const [log, problem] = useEvents(job);
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
              {t('office.log.line', {
                what: t(`shell.kind.${event.kind}`),
                who: personName(event.author, outlook.value),
              })}
              {detailOf(event) && <span class="board-line soft">{detailOf(event)}</span>}
            </span>
          </li>
        ))}
      </ol>
      {log.length > shown.length && (
        <div class="row">
          <Button onPress={() => setAll(true)}>{t('office.log.all', { count: log.length })}</Button>
        </div>
      )}
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
        if (current) setProblem(error instanceof Error ? error.message : String(error));
      },
    );
    return () => {
      current = false;
    };
  }, [job]);
  return [log, problem];
}

/** The words a person wrote with an entry, if any. */
export function detailOf(event: Event): string {
  if (event.kind === 'note.written') return event.body.text;
  const note = 'note' in event.body ? event.body.note : null;
  return note ?? '';
}
