import type { JobView } from '../../shared/job';
import { formatArea, formatDuration } from '../../shared/units';
import { sayMoment } from '../look';
import { units } from '../shell/preferences';
import type { Timeline } from '../sync/contract';
import { t } from '../words';
import type { LoadPace, PaceChange } from './contract';
import { sayOdds } from './odds';
import { MISS_MATTERS, paceView, type PaceView } from './pace';
import './style.css';

type PaceProps = { readonly job: JobView; readonly timeline: Timeline | null | undefined; readonly now: Date };

const zoneOf = (job: JobView): string => job.opened?.time_zone ?? 'UTC';
const numberOf = (job: JobView, load: string): string => String(job.loads.find(({ id }) => id === load)?.number ?? '?');

/** The first line of the race: when to start, and the chance to miss or what is in hand. */
export function PaceLine({ job, timeline, now }: PaceProps) {
  const view = paceView(job, timeline, now);
  if (!view) return null;
  return <p class={`decide-pace${view.pace.chance_to_miss >= MISS_MATTERS ? ' decide-pace-tight' : ''}`}><Head job={job} view={view} now={now} /></p>;
}

/** The race whole: first line, where the crew should be, load by load, what would help. */
export function PacePanel({ job, timeline, now }: PaceProps) {
  const view = paceView(job, timeline, now);
  if (!view) return null;
  return (
    <section class="decide-panel" aria-labelledby="pace">
      <h2 id="pace" class="visually-hidden">{t('decide.pace')}</h2>
      <PaceLine job={job} timeline={timeline} now={now} />
      {view.here && <p>{t('decide.here', { load: numberOf(job, view.here) })}</p>}
      <ul class="bare decide-loads">
        {view.pace.loads.map((load) => <LoadLine key={load.id} job={job} load={load} now={now} />)}
      </ul>
      {view.helps.length > 0 && (
        <>
          <h3>{t('decide.helps')}</h3>
          <ul class="bare decide-helps">
            {view.helps.map((change) => (
              <li key={change.change}><strong>{sayChange(change)}</strong> {t('decide.then', { odds: sayOdds(change.chance_to_miss_after) })}</li>
            ))}
          </ul>
          {view.helps.some(({ change }) => change === 'retarder_in_later_loads') && <p class="soft">{t('decide.plantDecides')}</p>}
        </>
      )}
    </section>
  );
}

function Head({ job, view, now }: { readonly job: JobView; readonly view: PaceView; readonly now: Date }) {
  const { pace, startBy, begun, spare } = view;
  const at = (iso: string): string => sayMoment(new Date(iso), now, zoneOf(job));
  const due = startBy ?? pace.start.ready_at;
  const start = Date.parse(due) <= now.getTime() ? t('decide.startNow') : t(startBy ? 'decide.startBy' : 'decide.startReady', { time: at(due) });
  const miss = t('decide.miss', { odds: sayOdds(pace.chance_to_miss), load: numberOf(job, pace.limiting) });
  const tight = pace.chance_to_miss >= MISS_MATTERS;
  return (
    <>
      {!begun && <strong class="decide-time">{start}</strong>} {tight || spare <= 0 ? <span class={begun ? 'decide-time' : undefined}>{miss}</span> : <span class={begun ? 'decide-time' : undefined}>{t('decide.spare', { left: formatDuration(spare) })}</span>}
    </>
  );
}

function LoadLine({ job, load, now }: { readonly job: JobView; readonly load: LoadPace; readonly now: Date }) {
  const at = (iso: string): string => sayMoment(new Date(iso), now, zoneOf(job));
  const slack = load.slack_minutes.likely;
  const bays = job.bays.filter((bay) => bay.load === load.id).map(({ label }) => label).join(', ');
  return (
    <li>
      <strong>{bays ? t('texture.loadBays', { number: numberOf(job, load.id), bays }) : t('layout.load', { number: numberOf(job, load.id) })}</strong>{' '}
      {t('decide.load', { reached: at(load.reached.likely), finished: at(load.finished.likely), closes: at(load.closes.likely) })}{' '}
      <span class={slack < 0 ? 'decide-late' : undefined}>{t(slack < 0 ? 'decide.slack.late' : 'decide.slack.spare', { left: formatDuration(Math.abs(slack)) })}</span>
    </li>
  );
}

function sayChange({ change, amount }: PaceChange): string {
  return t(`decide.change.${change}`, { amount, left: formatDuration(amount), area: formatArea(amount, units.value), percent: Math.round(amount * 100) });
}
