import { useState } from 'preact/hooks';
import type { JobView } from '../../shared/job';
import { formatDuration, formatTemp } from '../../shared/units';
import { Button, LinkButton, Notice, Screen, sayMoment } from '../look';
import { now } from '../shell/now';
import { units } from '../shell/preferences';
import { t } from '../words';
import { sayDrop, sayLoss, sayRain } from './amounts';
import { askAdvice } from './ask';
import type { Advice, Hour, Reason } from './contract';
import { sayOdds } from './odds';
import { InTheWay, useTold } from './told';

const shownFirst = 5;

/** When to pour: go or no-go first, then the hours, best first. */
export function PourTimeScreen({ job }: { readonly job: JobView }) {
  const question = [...[job.slab, job.mix, job.order, job.crew].map((one) => one?.event), ...job.loads.map(({ id }) => id), JSON.stringify(job.weather_days)].join();
  const { told, busy } = useTold<Advice>(() => askAdvice<Advice>(job.id), question, 0);
  const advice = told?.at === 'told' ? told.answer : null;
  const toFix = advice?.problem && ['order_missing', 'slab_missing', 'job_not_open'].includes(advice.problem.code) ? 'layout' : advice?.problem?.code.startsWith('weather') ? 'layout' : null;
  return (
    <Screen title={t('decide.pourTime')} under={job.name} back={`#/job/${job.id}/ready`} wide>
      {busy && !advice && <p role="status">{t('decide.workingHours')}</p>}
      <InTheWay told={told}>{toFix && <div class="actions"><LinkButton kind="main" href={`#/job/${job.id}/${toFix}`}>{t('decide.toLayout')}</LinkButton></div>}</InTheWay>
      {advice?.answer && <Hours job={job} advice={advice} hours={advice.answer.hours} />}
    </Screen>
  );
}

function Hours({ job, advice, hours }: { readonly job: JobView; readonly advice: Advice; readonly hours: readonly Hour[] }) {
  const [all, setAll] = useState(false);
  const best = hours[0];
  if (!best) return null;
  const zone = job.opened?.time_zone ?? 'UTC';
  const at = (iso: string): string => sayMoment(new Date(iso), now.value, zone);
  const planned = advice.planned_at;
  return (
    <>
      <Verdict hour={best} at={at} />
      {planned && <p>{t('decide.planned', { time: at(planned) })}</p>}
      <ol class="bare decide-hours">
        {(all ? hours : hours.slice(0, shownFirst)).map((hour) => <HourRow key={hour.start} hour={hour} at={at} />)}
      </ol>
      {hours.length > shownFirst && <Button expanded={all} onPress={() => setAll(!all)}>{all ? t('decide.fewer') : t('decide.allHours', { count: hours.length })}</Button>}
      <p class="soft">{t('decide.advice.limits')}</p>
    </>
  );
}

const isApart = ({ code }: Reason): boolean => code !== 'crew_misses' && code !== 'no_window';

/** The best hour: what is held against it first, then the word, then the hour. */
function Verdict({ hour, at }: { readonly hour: Hour; readonly at: (iso: string) => string }) {
  const [first, ...others] = hour.reasons;
  const time = at(hour.start);
  if (hour.verdict === 'go' || !first) {
    return (
      <Notice title={<span class="decide-time">{t('decide.go', { time })}</span>}>
        <p>{t('decide.made', { odds: sayOdds(hour.chance_to_make) })} {first ? hour.reasons.map((reason) => sayReason(reason, hour, at)).join(' ') : t('decide.nothingAgainst')}</p>
      </Notice>
    );
  }
  const stopped = hour.verdict === 'no_go';
  return (
    <Notice tone={stopped ? 'stop' : 'warn'} title={sayReason(first, hour, at)}>
      <p class="decide-time">{stopped ? t('decide.noGo') : t('decide.tight', { time })}</p>
      {stopped && <p>{t('decide.leastBad', { time })}</p>}
      {others.length > 0 && <p>{others.map((reason) => sayReason(reason, hour, at)).join(' ')}</p>}
    </Notice>
  );
}

const words = { go: 'decide.word.go', tight: 'decide.word.tight', no_go: 'decide.word.noGo' } as const;

/** One hour: its word, what is held against it, gravest first, then the odds where weather does not stop it. */
function HourRow({ hour, at }: { readonly hour: Hour; readonly at: (iso: string) => string }) {
  const spoilt = hour.reasons.some((reason) => reason.weight === 'stop' && isApart(reason));
  return (
    <li class="decide-hour">
      <span class="decide-hour-head">
        <strong class="time">{at(hour.start)}</strong>
        <span class={`decide-word decide-word-${hour.verdict}`}>{t(words[hour.verdict])}</span>
      </span>
      {hour.reasons.map((reason) => (isApart(reason) ? <span key={reason.code} class={reason.weight === 'note' ? undefined : 'decide-late'}>{sayReason(reason, hour, at)}</span> : !spoilt && <Odds key={reason.code} hour={hour} held />))}
      {!spoilt && hour.reasons.every(isApart) && <Odds hour={hour} />}
      {hour.saw && <span class="soft">{t('decide.sawFrom', { opens: at(hour.saw.opens), closes: at(hour.saw.closes) })}</span>}
    </li>
  );
}

function Odds({ hour, held }: { readonly hour: Hour; readonly held?: boolean }) {
  return (
    <>
      <span class={held ? 'decide-late' : undefined}>{t('decide.made', { odds: sayOdds(hour.chance_to_make) })}</span>
      <span class="decide-bar" aria-hidden="true"><span style={{ width: `${Math.round(hour.chance_to_make * 100)}%` }} /></span>
    </>
  );
}

function sayReason({ code, numbers, weight }: Reason, hour: Hour, at: (iso: string) => string): string {
  const number = (name: string): number => numbers[name] ?? 0;
  return t(code === 'evaporation' && weight === 'note' ? 'decide.reason.evaporation.note' : `decide.reason.${code}`, {
    rain: sayRain(number('rain_mm')),
    air: formatTemp(number('coldest_air_c'), units.value),
    concrete: formatTemp(number('concrete_temp_c'), units.value),
    felt: formatTemp(number('heat_index_c'), units.value),
    loss: sayLoss(number('evaporation_kg_m2_h')),
    dark: formatDuration(number('dark_minutes')),
    odds: sayOdds(number('chance_to_miss')),
    opens: hour.saw ? at(hour.saw.opens) : '',
    closes: hour.saw ? at(hour.saw.closes) : '',
    dropAt: hour.surface_drop ? at(hour.surface_drop) : '',
    drop: sayDrop(number('drop_k')),
  });
}
