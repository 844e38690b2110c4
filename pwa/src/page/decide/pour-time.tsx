import { useState } from 'preact/hooks';
import type { JobView } from '../../shared/job';
import { formatDuration, formatTemp } from '../../shared/units';
import { Button, LinkButton, Notice, Screen, sayMoment } from '../look';
import { now } from '../shell/now';
import { units } from '../shell/preferences';
import { t } from '../words';
import { askAdvice } from './ask';
import type { Advice, Hour, Reason } from './contract';
import { sayOdds } from './odds';
import { InTheWay, useTold } from './told';

const shownFirst = 5;
const lbFt2PerKgM2 = 0.204816;

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
  const at = (iso: string): string => sayMoment(new Date(iso), now.value, job.opened?.time_zone ?? 'UTC');
  const reason = best.reasons[0];
  const planned = advice.planned_at;
  return (
    <>
      {best.go ? (
        <Notice title={<span class="decide-time">{t('decide.go', { time: at(best.start) })}</span>}>
          <p>{t('decide.made', { odds: sayOdds(best.chance_to_make) })} {best.reasons.filter(isApart).map(sayReason).join(' ')}</p>
        </Notice>
      ) : (
        <Notice tone="stop" title={<span class="decide-time">{t('decide.noGo', { reason: reason ? sayReason(reason) : '' })}</span>}>
          <p>{t('decide.leastBad', { time: at(best.start) })}</p>
        </Notice>
      )}
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

function HourRow({ hour, at }: { readonly hour: Hour; readonly at: (iso: string) => string }) {
  const percent = Math.round(hour.chance_to_make * 100);
  return (
    <li class="decide-hour">
      <span class="decide-hour-head">
        <strong class="time">{at(hour.start)}</strong>
        <span class="decide-word">{t(hour.go ? 'decide.word.go' : 'decide.word.noGo')}</span>
      </span>
      <span class="decide-bar" aria-hidden="true"><span style={{ width: `${percent}%` }} /></span>
      <span>{t('decide.made', { odds: sayOdds(hour.chance_to_make) })}</span>
      {hour.reasons.filter(isApart).map((reason) => <span key={reason.code} class={reason.stop ? 'decide-late' : undefined}>{sayReason(reason)}</span>)}
    </li>
  );
}

function sayReason({ code, numbers }: Reason): string {
  const number = (name: string): number => numbers[name] ?? 0;
  const us = units.value === 'us';
  return t(`decide.reason.${code}`, {
    rain: us ? `${(number('rain_mm') / 25.4).toFixed(2)} in` : `${number('rain_mm').toFixed(1)} mm`,
    air: formatTemp(number('coldest_air_c'), units.value),
    concrete: formatTemp(number('concrete_temp_c'), units.value),
    felt: formatTemp(number('heat_index_c'), units.value),
    loss: us ? `${(number('evaporation_kg_m2_h') * lbFt2PerKgM2).toFixed(2)} lb/ft²/h` : `${number('evaporation_kg_m2_h').toFixed(1)} kg/m²/h`,
    dark: formatDuration(number('dark_minutes')),
    odds: sayOdds(number('chance_to_miss')),
  });
}
