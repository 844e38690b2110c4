import type { EventId } from '../../shared/events';
import type { Check, JobView } from '../../shared/job';
import { retract } from '../log/journal';
import { offerUndo } from '../log/undo';
import { Button, Notice, sayMoment } from '../look';
import type { Timeline } from '../sync/contract';
import { t } from '../words';
import { Loud } from './loud';
import { latestLesson, oddChecks, type Lesson } from './learned';
import './style.css';

type LessonProps = { readonly job: JobView; readonly timeline: Timeline | null | undefined; readonly now: Date; readonly attempt: (write: () => Promise<unknown>) => Promise<boolean> };

/** What the last check changed, with its undo, and the checks that do not fit. */
export function Lessons({ job, timeline, now, attempt }: LessonProps) {
  const lesson = latestLesson(job, timeline);
  const odd = oddChecks(job, timeline);
  const takeBack = (event: EventId): void => void attempt(async () => offerUndo(job.id, await retract(job.id, event), t('texture.did.checkGone')));
  return (
    <>
      <Loud job={job} timeline={timeline} now={now} />
      {lesson && !odd.includes(lesson.check) && (
        <div class="decide-lesson" role="status">
          <p><strong>{sayClose(lesson, job, now)}</strong> {sayPace(lesson)}</p>
          <Button label={t('decide.undoCheck')} onPress={() => takeBack(lesson.check.event)}>{t('decide.undo')}</Button>
        </div>
      )}
      {odd.map((check) => (
        <Notice key={check.event} tone="warn" title={t('decide.odd', { check: t(`texture.kind.${check.kind}`), time: timeOf(check, job, now), load: loadOf(check, job) })}>
          <p>{t('decide.odd.do')}</p>
          <div class="actions"><Button onPress={() => takeBack(check.event)}>{t('record.takeBack')}</Button></div>
        </Notice>
      ))}
    </>
  );
}

const zoneOf = (job: JobView): string => job.opened?.time_zone ?? 'UTC';
const timeOf = (check: Check, job: JobView, now: Date): string => sayMoment(new Date(check.at), now, zoneOf(job));
const loadOf = (check: Check, job: JobView): number | string => job.loads.find(({ id }) => id === check.load)?.number ?? '?';

function sayPace({ change }: Lesson): string {
  const percent = Math.abs(change.percent_faster);
  if (percent < 1) return t('decide.asExpected');
  return t(change.percent_faster > 0 ? 'decide.faster' : 'decide.slower', { percent });
}

/** What the check did to the load's close; in the past once it has closed, so that nobody waits for it. */
export function sayClose({ change, check }: Lesson, job: JobView, now: Date): string {
  const at = (iso: string): string => sayMoment(new Date(iso), now, zoneOf(job));
  const load = loadOf(check, job);
  const { texture_closes_was: was, texture_closes_now: closes } = change;
  if (!closes) return t('decide.noWindow', { load });
  if (Date.parse(closes) <= now.getTime()) {
    const early = was !== null && Date.parse(was) > now.getTime();
    return t(early ? 'decide.closedEarly' : 'decide.closed', { load, time: at(closes), was: at(was ?? closes) });
  }
  if (!was || at(was) === at(closes)) return t('decide.closes', { load, time: at(closes) });
  return t('decide.closesWas', { load, time: at(closes), was: at(was) });
}
