import type { JobView } from '../../shared/job';
import { sayNotice, toneOf } from '../decide/notice';
import { sayProblem } from '../decide/problem';
import { Notice, sayMoment } from '../look';
import type { Timeline, Trouble, Warning } from '../sync/contract';
import { isWordKey, t } from '../words';
import { gatherNotices, type Gathered } from './watch';

/** What the engine says to watch for, one notice for each kind and span of time. */
export function WatchFor({
  job,
  timeline,
  now,
  all,
  only,
  first = false,
}: {
  job: JobView;
  timeline: Timeline;
  now: Date;
  all?: boolean;
  /** The one code to tell of, where a screen is about it alone. */
  only?: string;
  /** The soonest alone, where the loads differ by minutes and the work to do is one. */
  first?: boolean;
}) {
  const timeZone = job.opened?.time_zone ?? 'UTC';
  const gathered = gatherNotices(job, timeline, all ? null : now).filter(({ warning }) => !only || warning.code === only);
  return (
    <>
      {(first ? soonest(gathered) : gathered).map((one) => (
        <Notice
          key={`${one.warning.code}-${one.warning.from}`}
          tone={toneOf(one.warning)}
          title={sayTitle(one)}
        >
          <p>{sayNotice(one.warning, now, timeZone)}</p>
          <p class="soft">{sayWhen(one.warning, now, timeZone)}</p>
        </Notice>
      ))}
    </>
  );
}

/** The one that begins first, said of every load that one is said of. */
function soonest(gathered: readonly Gathered[]): readonly Gathered[] {
  const first = [...gathered].sort((one, other) => Date.parse(one.warning.from) - Date.parse(other.warning.from))[0];
  return first ? [{ ...first, loads: [...new Set(gathered.flatMap(({ loads }) => loads))].sort((one, other) => one - other) }] : [];
}

function sayTitle({ warning, loads }: Gathered): string {
  const key = `now.notice.${warning.code}`;
  const notice = isWordKey(key) ? t(key) : warning.text;
  return loads.length === 0
    ? notice
    : t('now.notice.on', {
        loads: t('now.notice.loads', { count: loads.length, loads: loads.join(', ') }),
        notice,
      });
}

function sayWhen(warning: Warning, now: Date, timeZone: string): string {
  const early = sayMoment(new Date(warning.from), now, timeZone);
  const late = sayMoment(new Date(warning.to), now, timeZone);
  return early === late ? early : t('look.tide.range', { early, late });
}

export { sayProblem };

export function TroubleNotice({ problem }: { problem: Trouble }) {
  const { title, todo } = sayProblem(problem);
  return (
    <Notice tone="warn" title={title}>
      {todo}
    </Notice>
  );
}
