import type { JobView } from '../../shared/job';
import { formatDuration, formatSpeed, formatTemp, formatVolume } from '../../shared/units';
import { LinkButton, Notice, localDay, sayMoment } from '../look';
import { units } from '../shell/preferences';
import type { JobOutlook } from '../sync/contract';
import { t } from '../words';
import { TroubleNotice, WatchFor } from './notices';
import { pourAhead, type Fact } from './pours';
import { sayWeatherLabel } from './weather-label';
import { severalZones, ZoneNote } from './zone-note';

const LB_FT2_PER_KG_M2 = 0.204816;
const DAY_MIN = 24 * 60;

/** A pour ahead: when, how much, and the weather facts to go over before the order stands. */
export function ComingPour({ job, look, now }: { job: JobView; look: JobOutlook | null; now: Date }) {
  const pour = pourAhead(job, look, now);
  const zone = job.opened?.time_zone ?? 'UTC';
  if (!pour.at || !job.order) return null;
  const time = sayMoment(pour.at, now, zone);
  return (
    <article class="panel stack" aria-label={job.name}>
      <header>
        <h3>
          <a class="now-job-link" href={`#/job/${job.id}/ready`}>
            {job.name}
          </a>
        </h3>
        <p class="big-time">{t('now.pour.at', { time })}</p>
        {severalZones.value && <ZoneNote job={job} />}
        <p class="soft">
          {sayAhead(pour.at, now, zone)}
          {t('now.pour.order', {
            volume: formatVolume(job.order.volume_m3, units.value),
            loads: job.order.loads,
          })}
        </p>
      </header>
      {pour.overdue && (
        <Notice tone="warn" title={t('now.pour.overdue', { time })}>
          {t('now.pour.overdue.words')}
        </Notice>
      )}
      <dl class="facts">
        {pour.facts.map((fact) => (
          <FactLine key={fact.name} fact={fact} now={now} zone={zone} />
        ))}
      </dl>
      {look?.timeline && <WatchFor job={job} timeline={look.timeline} now={now} all />}
      {look?.problem && <TroubleNotice problem={look.problem} />}
      <LinkButton href={`#/job/${job.id}/ready`}>{t('now.pour.check')}</LinkButton>
    </article>
  );
}

function sayAhead(at: Date, now: Date, zone: string): string {
  const minutes = Math.round((at.getTime() - now.getTime()) / 60_000);
  if (minutes > 0 && minutes < DAY_MIN) return `${t('now.pour.in', { left: formatDuration(minutes) })}. `;
  return localDay(at, zone) === localDay(now, zone) ? `${t('now.pour.today')}. ` : '';
}

function FactLine({ fact, now, zone }: { fact: Fact; now: Date; zone: string }) {
  return (
    <>
      <dt>{t(`now.fact.${fact.name}`)}</dt>
      <dd>
        {sayFact(fact, now, zone)}{' '}
        <span class={`now-fact now-fact-${fact.state}`}>{t(`now.fact.${fact.state}`)}</span>
      </dd>
    </>
  );
}

function sayFact({ name, state, values }: Fact, now: Date, zone: string): string {
  const number = (key: string) => Number(values[key]);
  const system = units.value;
  if (state === 'missing') return t('now.fact.cover.none');
  if (name === 'air') {
    return t('now.fact.air.value', {
      low: formatTemp(number('low_c'), system),
      high: formatTemp(number('high_c'), system),
    });
  }
  if (name === 'humidity') {
    return t('now.fact.humidity.value', {
      rh: Math.round(number('rh') * 100),
      wind: formatSpeed(number('wind_kmh'), system),
    });
  }
  if (name === 'drying') return t('now.fact.drying.value', { rate: sayRate(number('rate_kg_m2_h')) });
  return t('now.fact.cover.value', {
    label: sayWeatherLabel(String(values['label'] ?? '')),
    time: sayMoment(new Date(values['to'] ?? ''), now, zone),
  });
}

function sayRate(rate_kg_m2_h: number): string {
  return units.value === 'us'
    ? `${(rate_kg_m2_h * LB_FT2_PER_KG_M2).toFixed(2)} lb/ft²/h`
    : `${rate_kg_m2_h.toFixed(1)} kg/m²/h`;
}
