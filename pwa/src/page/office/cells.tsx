import { formatVolume } from '../../shared/units';
import { sayMoment } from '../look';
import { sayProblem } from '../now/notices';
import { units } from '../shell/preferences';
import type { BoardJob } from '../sync/contract';
import { outlook } from '../sync/outlook';
import { isWordKey, t } from '../words';
import { personName, sayAgo, sayNext, zoneOf } from './say';
import { heldBack, inHand } from './state';

export function NextCell({ job, now }: { job: BoardJob; now: Date }) {
  const next = sayNext(job, now);
  return (
    <>
      {next && job.next ? (
        <a class="board-line board-item time" href={`#/office/reminder/${job.next.reminder}`}>
          {next.head}
        </a>
      ) : (
        <span>{t('office.next.none')}</span>
      )}
      {next?.slack && <span class="board-line">{next.slack}</span>}
      {job.next?.state === 'failed' && <span class="board-line board-alarm">{t('office.undelivered')}</span>}
      {job.problem && <span class="board-line board-alarm">{sayProblem(job.problem).title}</span>}
      <Risks job={job} now={now} />
    </>
  );
}

/** What the weather threatens, the soonest first; two at most. */
function Risks({ job, now }: { job: BoardJob; now: Date }) {
  const ahead = (job.weather_risk ?? []).filter((risk) => Date.parse(risk.to) > now.getTime());
  const soonest = [...ahead].sort((a, b) => Date.parse(a.from) - Date.parse(b.from)).slice(0, 2);
  return (
    <>
      {soonest.map((risk) => {
        const key = `now.notice.${risk.code}`;
        const begun = Date.parse(risk.from) <= now.getTime();
        const words = isWordKey(key) ? t(key) : risk.code;
        const time = sayMoment(new Date(begun ? risk.to : risk.from), now, zoneOf(job.job));
        return (
          <span key={risk.code} class="board-line board-risk">
            {t(begun ? 'office.risk.until' : 'office.risk.from', { words, time })}
          </span>
        );
      })}
    </>
  );
}

export function HandCell({ job, now }: { job: BoardJob; now: Date }) {
  const ack = job.last_ack;
  const open = job.next !== null && Date.parse(job.next.due) <= now.getTime() && !inHand(job);
  return (
    <>
      {open && <strong class="board-line">{t('office.hand.nobody')}</strong>}
      {ack && (
        <span class="board-line">
          {t('office.hand.by', {
            what: t(`office.what.${ack.what as 'saw'}`),
            who: personName(ack.by, outlook.value),
            time: sayMoment(new Date(ack.at), now, zoneOf(job.job)),
          })}
        </span>
      )}
      {!open && !ack && '–'}
    </>
  );
}

export function HeardCell({ job, now }: { job: BoardJob; now: Date }) {
  return (
    <>
      {job.last_heard_at ? (
        <span class="board-line">
          {[sayAgo(job.last_heard_at, now), job.last_heard_from].filter(Boolean).join(', ')}
        </span>
      ) : (
        <span>{t('office.heard.never')}</span>
      )}
      {job.unsent > 0 && (
        <span class={`board-line${heldBack(job, now) ? ' board-alarm' : ''}`}>
          {t('office.unsent', {
            count: job.unsent,
            age: job.oldest_unsent_at ? sayAgo(job.oldest_unsent_at, now) : '',
          })}
        </span>
      )}
    </>
  );
}

export function LoadsCell({ job, now }: { job: BoardJob; now: Date }) {
  const placed = formatVolume(job.volume_placed_m3, units.value);
  const ordered = job.volume_ordered_m3 === null ? null : formatVolume(job.volume_ordered_m3, units.value);
  return (
    <>
      <span class="board-line">
        {job.loads_ordered === null
          ? t('office.loads.unordered')
          : t('office.loads.of', { done: job.loads_placed, total: job.loads_ordered })}
      </span>
      {ordered && <span class="board-line">{t('office.of', { done: placed, total: ordered })}</span>}
      {job.pour_at && (
        <span class="board-line soft">
          {t('office.pour', { time: sayMoment(new Date(job.pour_at), now, zoneOf(job.job)) })}
        </span>
      )}
    </>
  );
}
