import type { JobView } from '../../../shared/job'
import { formatTemp } from '../../../shared/units'
import { Care } from '../../look'
import { now } from '../../shell/now'
import { units } from '../../shell/preferences'
import { outlook } from '../../sync/outlook'
import { t } from '../../words'
import { timeOf } from '../who'
import { heatAsks, heatHours, hottest, type Effort, type HeatHour } from './hours'
import './style.css'

/** Heat on the crew: what this hour asks, the hours ahead, and the caution. Nothing while it is cool. */
export function HeatCare({ job, effort = job.phase === 'pour' ? 'heavy' : 'moderate' }: { readonly job: JobView; readonly effort?: Effort }) {
  const mine = outlook.value?.jobs[job.id]
  const hours = heatHours(mine?.weather.felt, now.value, effort)
  if (!heatAsks(job, mine?.timeline ?? null, now.value, hours)) return null
  return (
    <section class="heat" aria-label={t('look.care.heat.title')}>
      <HeatNow job={job} hours={hours} />
      <Care what="heat" />
      {hours.length > 0 && (
        <details class="heat-more">
          <summary>{t('care.hours')}</summary>
          <HeatChart job={job} hours={hours} />
          <p class="soft">{t(`care.source.${effort}`)}</p>
        </details>
      )}
    </section>
  )
}

function HeatNow({ job, hours }: { readonly job: JobView; readonly hours: readonly HeatHour[] }) {
  const [first] = hours
  const worst = hottest(hours)
  if (!first || !worst) return <p>{t('care.unknown')}</p>
  return (
    <>
      <p class="heat-now"><strong>{t('care.now', { temp: temp(first.feels_c) })}</strong> {advice(first)}</p>
      {worst !== first && worst.feels_c - first.feels_c > 0.5 && <p>{t('care.peak', { time: timeOf(job, worst.at.toISOString()), temp: temp(worst.feels_c) })} {worst.level === first.level ? restWords(worst.work_min) : advice(worst)}</p>}
    </>
  )
}

const temp = (value_c: number): string => formatTemp(value_c, units.value)

/** Water and rest by the published charts, as one or two sentences. */
function advice({ level, work_min }: HeatHour): string {
  const water = level === 'lower' && work_min === 60 ? t('care.water.near') : t('care.water.often')
  return [water, restWords(work_min), level === 'high' || level === 'extreme' ? t(`care.level.${level}.do`) : ''].filter(Boolean).join(' ')
}

function restWords(work_min: number): string {
  if (work_min >= 60) return t('care.rest.none')
  return work_min > 0 ? t('care.rest', { work: work_min, rest: 60 - work_min }) : t('care.rest.beyond')
}

/** Bars from the coolest hour worth a bar to the hottest told; numbers and words carry it, the bar only helps the eye. */
function HeatChart({ job, hours }: { readonly job: JobView; readonly hours: readonly HeatHour[] }) {
  const most = Math.max(...hours.map(({ feels_c }) => feels_c))
  const least = Math.min(...hours.map(({ feels_c }) => feels_c)) - 2
  return (
    <table class="heat-chart">
      <thead>
        <tr>
          <th scope="col">{t('care.col.hour')}</th>
          <th scope="col">{t('care.col.feels')}</th>
          <th scope="col">{t('care.col.work')}</th>
        </tr>
      </thead>
      <tbody>
        {hours.map((hour) => (
          <tr key={hour.at.toISOString()}>
            <th scope="row">{timeOf(job, hour.at.toISOString())}</th>
            <td>
              <span class="heat-figure">{temp(hour.feels_c)} {t(`care.level.${hour.level}`)}</span>
              <span class={`heat-bar heat-bar-${hour.level}`} aria-hidden="true" style={{ width: `${Math.round((100 * (hour.feels_c - least)) / (most - least))}%` }} />
            </td>
            <td>{hour.work_min >= 60 ? t('care.cell.none') : hour.work_min > 0 ? t('care.cell', { work: hour.work_min, rest: 60 - hour.work_min }) : t('care.cell.beyond')}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
