import { signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { formatDuration } from '../../shared/units';
import { Notice, sayMoment } from '../look';
import { now as clock } from '../shell/now';
import { callJson } from '../sync/call';
import type { ConflictFound, Conflicts, ConflictTurn, RestsOn } from '../sync/contract';
import { me } from '../sync/state';
import { t } from '../words';
import { loadOf } from './tasks';
import './conflicts.css';

const everyMs = 60_000;
const fetched = signal<Conflicts | null>(null);

/** Conflicts between jobs, asked for each minute while shown: for screens other than the board, which has its own. Nothing without a signal, or for the crew. */
export function JobConflicts() {
  const leads = me.value !== null && me.value.role !== 'crew';
  useEffect(() => {
    if (!leads) return undefined;
    const ask = (): void => void callJson<Conflicts>('/api/conflicts').then((found) => (fetched.value = found), () => undefined);
    ask();
    const timer = setInterval(ask, everyMs);
    return () => clearInterval(timer);
  }, [leads]);
  return leads && fetched.value ? <ConflictsPart conflicts={fetched.value} now={clock.value} /> : null;
}

/** Work that wants one crew, saw or sprayer at one time, and the order that loses least. */
export function ConflictsPart({ conflicts, now }: { conflicts: Conflicts; now: Date }) {
  return (
    <>
      {conflicts.found.map((one) => (
        <OneConflict key={one.order.map(({ job, what }) => job + what).join()} conflict={one} now={now} />
      ))}
      {conflicts.found.length > 0 && conflicts.rests_on && <Why rests={conflicts.rests_on} />}
      {(conflicts.more ?? 0) > 0 && <p class="soft">{t('conflicts.more', { count: conflicts.more ?? 0 })}</p>}
      {conflicts.unnamed.length > 0 && (
        <p class="soft">{t('conflicts.unnamed', { kinds: conflicts.unnamed.map((kind) => t(`conflicts.plural.${kind}`)).join(', ') })}</p>
      )}
    </>
  );
}

/** What the order rests on, for whoever wants to go against it. */
function Why({ rests }: { rests: RestsOn }) {
  const { weights } = rests;
  const span = (minutes: number): string => formatDuration(minutes);
  return (
    <details class="conflicts-why">
      <summary>{t('conflicts.why')}</summary>
      <p>{t('conflicts.why.weights', { texture: weights.texture ?? weights.saw, saw: weights.saw, pour: weights.pour, coat: weights.seal })}</p>
      <p>{t('conflicts.why.times', { road: span(rests.between_jobs_min), after: span(rests.after_last_load_min), setup: span(rests.set_up_saw_min), saw: span(rests.saw_without_length_min), coat: span(rests.coating_min) })}</p>
      <p>{t('conflicts.why.yours')}</p>
    </details>
  );
}

function OneConflict({ conflict, now }: { conflict: ConflictFound; now: Date }) {
  const { kind, name, order } = conflict;
  const who = name ? t(`conflicts.named.${kind}`, { name }) : t(`conflicts.one.${kind}`);
  const late = conflict.order.filter(({ late_min }) => late_min > 0);
  const places = new Set(order.map(({ job }) => job)).size;
  return (
    <Notice tone="warn" title={t('conflicts.title', { who, count: places })}>
      <p>{t('conflicts.order')}</p>
      <ol>
        {order.map((turn) => (
          <li key={turn.job + turn.what + turn.subject}>
            <Turn turn={turn} now={now} />
          </li>
        ))}
      </ol>
      {late.length === 0 && <p>{t('conflicts.saved')}</p>}
      <Instead conflict={conflict} />
    </Notice>
  );
}

/** "Saw Oak Lane", "Texture Oak Lane, load 2". */
function sayWork(turn: ConflictTurn): string {
  const load = loadOf(turn);
  return t(load === null ? `conflicts.what.${turn.what}` : 'conflicts.what.texture.load', { job: turn.name, load: load ?? '' });
}

function Turn({ turn, now }: { turn: ConflictTurn; now: Date }) {
  const at = (iso: string): string => sayMoment(new Date(iso), now, turn.time_zone);
  const late = turn.late_min > 0;
  return (
    <>
      <a href={`#/job/${turn.job}/${turn.what === 'pour' ? 'ready' : turn.what === 'texture' ? 'texture' : 'next-days'}`}>{sayWork(turn)}</a>
      {', '}
      <span class="time">{t('conflicts.from', { time: at(turn.from) })}</span>
      {late && ' · '}
      {late && <strong>{t(turn.what === 'pour' ? 'conflicts.pour_late' : 'conflicts.late', { left: formatDuration(turn.late_min) })}</strong>}
    </>
  );
}

/** What comes of taking each as it falls due, where that loses more. */
function Instead({ conflict }: { conflict: ConflictFound }) {
  const worse = conflict.as_it_comes.filter(({ late_min }) => late_min > 0);
  if (conflict.loss_as_it_comes <= conflict.loss || worse.length === 0) return null;
  const losses = worse.map((turn) => t('conflicts.loses', { work: sayWork(turn), left: formatDuration(turn.late_min) }));
  return <p class="soft">{t('conflicts.instead', { losses: losses.join('; ') })}</p>;
}
