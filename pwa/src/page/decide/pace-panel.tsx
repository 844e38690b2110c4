import type { JobView } from '../../shared/job';
import { formatArea, formatDuration } from '../../shared/units';
import { sayMoment } from '../look';
import { units } from '../shell/preferences';
import type { Timeline } from '../sync/contract';
import { t } from '../words';
import type { LoadPace, PaceCall, PaceChange } from './contract';
import { sayOdds } from './odds';
import { MISS_MATTERS, paceView, type PaceView } from './pace';
import './style.css';

type PaceProps = { readonly job: JobView; readonly timeline: Timeline | null | undefined; readonly now: Date };
type PartProps = { readonly job: JobView; readonly view: PaceView; readonly now: Date };

const zoneOf = (job: JobView): string => job.opened?.time_zone ?? 'UTC';
const numberOf = (job: JobView, load: string): string => String(job.loads.find(({ id }) => id === load)?.number ?? '?');
const area = (area_m2: number): string => formatArea(area_m2, units.value);

/** The first line of the race: when to start, and the chance to miss or what is in hand. */
export function PaceLine({ job, timeline, now }: PaceProps) {
  const view = paceView(job, timeline, now);
  if (!view) return null;
  return <p class={`decide-pace${view.pace.chance_to_miss >= MISS_MATTERS ? ' decide-pace-tight' : ''}`}><Head job={job} view={view} now={now} /></p>;
}

/** The race whole: first line, what to do early, where the crew is and should be, load by load, what would help. */
export function PacePanel({ job, timeline, now }: PaceProps) {
  const view = paceView(job, timeline, now);
  if (!view) return null;
  return (
    <section class="decide-panel" aria-labelledby="pace">
      <h2 id="pace" class="visually-hidden">{t('decide.pace')}</h2>
      <PaceLine job={job} timeline={timeline} now={now} />
      <Calls job={job} view={view} now={now} />
      <Progress job={job} view={view} now={now} />
      <ul class="bare decide-loads">
        {view.pace.loads.map((load) => <LoadLine key={load.id} job={job} load={load} now={now} />)}
      </ul>
      <Helps view={view} />
    </section>
  );
}

function Head({ job, view, now }: PartProps) {
  const { pace, startBy, begun, spare, tightest } = view;
  const at = (iso: string): string => sayMoment(new Date(iso), now, zoneOf(job));
  const due = startBy ?? pace.start.ready_at;
  const start = Date.parse(due) <= now.getTime() ? t('decide.startNow') : t(startBy ? 'decide.startBy' : 'decide.startReady', { time: at(due) });
  const miss = t('decide.miss', { odds: sayOdds(pace.chance_to_miss), load: numberOf(job, pace.limiting) });
  const inHand = Math.round(spare) === 0 ? t('decide.spareNone') : spare < 0 ? t('decide.short', { left: formatDuration(-spare) }) : t(tightest ? 'decide.spareOn' : 'decide.spare', { left: formatDuration(spare), load: tightest ? numberOf(job, tightest) : '' });
  const tight = pace.chance_to_miss >= MISS_MATTERS || spare <= 0;
  return (
    <>
      {!begun && <strong class="decide-time">{start}</strong>} <span class={begun ? 'decide-time' : undefined}>{inHand}</span>{tight && <> {miss}</>}
    </>
  );
}

/** What has to be told early, the soonest first. */
function Calls({ job, view, now }: PartProps) {
  const { pace, dried, releaseMatters } = view;
  const calls = pace.calls.filter(({ code }) => code !== 'hold_release');
  const lasts = formatDuration(pace.release.lasts_minutes);
  if (calls.length === 0 && dried.length === 0 && !releaseMatters) return null;
  return (
    <ul class="bare decide-calls">
      {calls.map((call) => <li key={call.code}>{sayCall(call, job, now)}</li>)}
      {dried.map(({ bay, minutes }) => <li key={bay} class="decide-late">{t('decide.release.dried', { bay, left: formatDuration(minutes), lasts })}</li>)}
      {releaseMatters && <li>{t('decide.release.ahead', { lasts, area: area(pace.release.ahead_m2) })}</li>}
    </ul>
  );
}

function sayCall({ code, load, at, params }: PaceCall, job: JobView, now: Date): string {
  const number = numberOf(job, load);
  const time = sayMoment(new Date(at), now, zoneOf(job));
  const past = Date.parse(at) <= now.getTime();
  if (code === 'tamper') return t(past ? 'decide.call.tamper.now' : 'decide.call.tamper', { load: number, time });
  const people = params['people'] ?? 1;
  const words = { people, load: number, time, before: sayOdds(params['chance_before'] ?? 0), after: sayOdds(params['chance_after'] ?? 0) };
  return t(past ? 'decide.call.add_hands.now' : 'decide.call.add_hands', words);
}

/** Where the crew is, and where it should be. */
function Progress({ job, view, now }: PartProps) {
  const { where } = view.pace;
  if (view.unmarked !== null) return <p class="decide-late">{t('decide.unmarked', { left: formatDuration(view.unmarked) })}</p>;
  const should = view.here && t('decide.here', { load: numberOf(job, view.here) });
  if (!where.begun) return should ? <p>{should}</p> : null;
  return (
    <p>
      {view.on.length > 0 && <strong>{t('decide.on', { bays: view.on.join(', ') })} </strong>}
      {t('decide.done', { done: area(where.done_m2), all: area(where.done_m2 + where.left_m2), planned: area(where.planned_m2) })}{' '}
      <span class={view.behind && view.behind > 0 ? 'decide-late' : undefined}>{view.behind === null ? t('decide.onPlan') : t(view.behind > 0 ? 'decide.behind' : 'decide.ahead', { left: formatDuration(Math.abs(view.behind)) })}</span>
      {view.speed !== null && <> {t('decide.speed', { percent: Math.round(view.speed * 100), left: formatDuration(where.timed_minutes) })}</>}
      {now.getTime() > Date.parse(view.pace.loads[0]?.closes.likely ?? '') && <> {t('decide.pastClose')}</>}
    </p>
  );
}

/** What would help, or that nothing does; nothing while none is needed. */
function Helps({ view: { pace, helps } }: { readonly view: PaceView }) {
  if (helps.length === 0) return pace.chance_to_miss >= MISS_MATTERS ? <p>{t('decide.noHelp')}</p> : null;
  return (
    <>
      <h3>{t('decide.helps')}</h3>
      <ul class="bare decide-helps">
        {helps.map((change) => <li key={change.change}><strong>{sayChange(change)}</strong> {sayGain(change, pace.chance_to_miss)}</li>)}
      </ul>
      {helps.some(({ change }) => change === 'retarder_in_later_loads') && <p class="soft">{t('decide.plantDecides')}</p>}
    </>
  );
}

/** The odds it leaves where they move to other words; else the minutes it brings. */
function sayGain({ chance_to_miss_after: after, slack_minutes_gained: gained }: PaceChange, before: number): string {
  if (sayOdds(after) !== sayOdds(before)) return t('decide.then', { odds: sayOdds(after) });
  return t('decide.brings', { left: formatDuration(gained) });
}

function LoadLine({ job, load, now }: { readonly job: JobView; readonly load: LoadPace; readonly now: Date }) {
  const at = (iso: string): string => sayMoment(new Date(iso), now, zoneOf(job));
  const slack = load.slack_minutes.likely;
  const bays = job.bays.filter((bay) => bay.load === load.id && !bay.steps.texture?.end).map(({ label }) => label).join(', ');
  return (
    <li>
      <strong>{bays ? t('texture.loadBays', { number: numberOf(job, load.id), bays }) : t('layout.load', { number: numberOf(job, load.id) })}</strong>{' '}
      {t('decide.load', { reached: at(load.reached.likely), finished: at(load.finished.likely), closes: at(load.closes.likely) })}{' '}
      <span class={slack < 0 ? 'decide-late' : undefined}>{Math.round(slack) === 0 ? t('decide.spareNone') : t(slack < 0 ? 'decide.slack.late' : 'decide.slack.spare', { left: formatDuration(Math.abs(slack)) })}</span>
    </li>
  );
}

function sayChange({ change, amount }: PaceChange): string {
  return t(`decide.change.${change}`, { amount, left: formatDuration(amount), area: area(amount), percent: Math.round(amount * 100) });
}
