import { useId } from 'preact/hooks'
import type { JobView, KeptSlot } from '../../../shared/job'
import { formatTime } from '../../../shared/units'
import { Button, Notice } from '../../look'
import { now } from '../../shell/now'
import { isFar } from '../../sync/far'
import { outlook } from '../../sync/outlook'
import type { FitSlot, Work, WorkAhead } from '../../sync/days'
import { t } from '../../words'
import { act, takeBack } from '../act'
import { dayTimeOf, mayWrite, momentOf, whoWhen, zoneOf } from '../who'
import { dayRows, keptOf, slotsLeft, workAhead, type DayRow, type Span } from './days'
import { sayFor, sayWhy, shortWhy, wettedBy, workName } from './why'

interface SlotsProps {
  readonly job: JobView
  readonly work: Work
  readonly coat?: number
}

/** When the work may be done: the time kept, the best time, and every day ahead hour by hour with what is wrong. */
export function Slots({ job, work, coat = 1 }: SlotsProps) {
  const timeline = outlook.value?.jobs[job.id]?.timeline
  const ahead = workAhead(timeline, work, coat)
  const kept = keptOf(job, work, coat)
  if (!ahead || !timeline?.days_ahead) return kept ? <KeptTime job={job} kept={kept} ahead={null} /> : <p>{t(isFar(outlook.value, job) ? 'nextDays.noOutlook' : 'nextDays.noSlot')}</p>
  const best = slotsLeft(ahead, now.value)[0]
  const isNext = timeline.days_ahead.works[0] === ahead
  return (
    <>
      {kept && <KeptTime job={job} kept={kept} ahead={ahead} />}
      {!kept && best && <BestTime job={job} work={work} coat={coat} slot={best} />}
      {!best && <Notice title={t('nextDays.noneFit')} />}
      {ahead.after && !ahead.after.done && ahead.after.at && <p class="soft">{t('nextDays.ifBefore', { work: workName(ahead.after.work), at: momentOf(job, ahead.after.at) })}</p>}
      <details class="all-days" open={isNext}>
        <summary>{t('nextDays.allDays')}</summary>
        <ol class="rows days">
          {dayRows(timeline.days_ahead, ahead, now.value, zoneOf(job)).map((row) => <Day key={row.day} job={job} row={row} work={work} coat={coat} kept={kept} />)}
        </ol>
        <DayKey />
      </details>
    </>
  )
}

function BestTime({ job, work, coat, slot }: SlotsProps & { readonly slot: FitSlot }) {
  return (
    <div class="stack best-time">
      <p><strong>{t('nextDays.best', { from: momentOf(job, slot.from), to: formatTime(new Date(slot.to), zoneOf(job)) })}</strong></p>
      <p class="soft">{sayFor(slot)}</p>
      <Keep job={job} work={work} coat={coat ?? 1} from={slot.from} to={slot.to} />
    </div>
  )
}

/** Keeps a time for a piece of work: on the calendar, reminded of and watched. */
function Keep({ job, work, coat, from, to }: { readonly job: JobView; readonly work: Work; readonly coat: number; readonly from: string; readonly to: string }) {
  if (!mayWrite(['foreman', 'office'])) return null
  const span = t('nextDays.slot', { from: momentOf(job, from), to: formatTime(new Date(to), zoneOf(job)) })
  const iso = (text: string): string => new Date(text).toISOString()
  return <Button label={`${t('nextDays.keep')}: ${span}`} onPress={() => void act(job.id, 'slot.kept', { work, coat, from: iso(from), to: iso(to) }, t('nextDays.did.kept', { span }))}>{t('nextDays.keep')}</Button>
}

function KeptTime({ job, kept, ahead }: { readonly job: JobView; readonly kept: KeptSlot; readonly ahead: WorkAhead | null }) {
  const told = ahead?.kept && Date.parse(ahead.kept.from) === Date.parse(kept.from) ? ahead.kept : null
  const why = told?.out[0]?.why[0]
  const over = Date.parse(kept.to) <= now.value.getTime()
  const span = t('nextDays.slot', { from: momentOf(job, kept.from), to: formatTime(new Date(kept.to), zoneOf(job)) })
  return (
    <Notice tone={why || over ? 'warn' : 'plain'} title={t(over ? 'nextDays.keptOver' : why ? 'nextDays.keptLost' : 'nextDays.kept', { span })}>
      {why && !over && <p>{sayWhy(why, job)}</p>}
      {why && told?.next_best && <p><strong>{t('nextDays.nextBest', { at: momentOf(job, told.next_best.from) })}</strong></p>}
      {told && !told.known && <p>{t('nextDays.keptFar')}</p>}
      <p class="soft">{whoWhen(job, kept)}</p>
      <div class="keys">
        {(why || over) && told?.next_best && <Keep job={job} work={kept.work} coat={kept.coat} from={told.next_best.from} to={told.next_best.to} />}
        {mayWrite(['foreman', 'office']) && <Button kind="quiet" label={`${t('nextDays.letGo')}: ${span}`} onPress={() => void takeBack(job.id, kept.event, t('nextDays.did.letGo'))}>{t('nextDays.letGo')}</Button>}
      </div>
    </Notice>
  )
}

interface DayProps {
  readonly job: JobView
  readonly row: DayRow
  readonly work: Work
  readonly coat: number
  readonly kept: KeptSlot | null
}

/** One day: its fit hours in words and as a strip; a touch opens every span with its reasons. */
function Day({ job, row, work, coat, kept }: DayProps) {
  const zone = zoneOf(job)
  const clock = (at: Date): string => formatTime(at, zone)
  const fit = row.spans.filter((span) => !span.out)
  const worst = [...new Set(row.spans.flatMap((span) => span.out?.why.filter((why) => why.code !== 'dark').slice(0, 1).map(shortWhy) ?? []))].slice(0, 3)
  const name = new Intl.DateTimeFormat(t('record.locale'), { timeZone: zone, weekday: 'short', day: 'numeric', month: 'short' }).format(new Date(row.starts.getTime() + 43_200_000))
  const isKept = (span: Span): boolean => kept !== null && Date.parse(kept.from) === span.from.getTime()
  return (
    <li class="day">
      <details class="full">
        <summary class="day-line">
          <span class="day-name">{name}</span>
          <strong class="time">{fit.length ? fit.map((span) => `${clock(span.from)}–${clock(span.to)}`).join(', ') : t('nextDays.noFit')}</strong>
          <Strip row={row} />
          {worst.length > 0 && <span class="soft">{t('nextDays.outBy', { why: worst.join(', ') })}</span>}
        </summary>
        <ul class="rows">
          {row.spans.map((span) => (
            <li key={span.from.getTime()}>
              <span class={span.out ? undefined : 'fit-line'}>
                <span class="time">{clock(span.from)}–{clock(span.to)}</span> {span.out ? '' : <strong>{t('nextDays.fit')}</strong>}
                {span.out && <ul class="whys">{span.out.why.map((why) => <li key={why.code}>{sayWhy(why, job)}</li>)}</ul>}
              </span>
              {!span.out && !isKept(span) && <Keep job={job} work={work} coat={coat} from={span.from.toISOString()} to={span.to.toISOString()} />}
            </li>
          ))}
        </ul>
      </details>
    </li>
  )
}

const HOURS = 24
const WIDE = 288

/** The day from midnight to midnight: solid where it is fit, hatched where not, dotted in the dark. */
function Strip({ row }: { readonly row: DayRow }) {
  const id = useId()
  const whole = row.ends.getTime() - row.starts.getTime()
  const x = (at: Date): number => (WIDE * (at.getTime() - row.starts.getTime())) / whole
  return (
    <svg class="day-strip" viewBox={`0 0 ${WIDE} 22`} preserveAspectRatio="none" aria-hidden="true">
      <StripPatterns id={id} />
      {row.spans.map((span) => <rect key={span.from.getTime()} x={x(span.from)} y="0" width={Math.max(0, x(span.to) - x(span.from))} height="16" class={span.out ? 'strip-out' : 'strip-fit'} {...(span.out ? { fill: `url(#${id}-${span.out.why.some((why) => why.code === 'dark') ? 'dark' : 'out'})` } : {})} />)}
      {[6, 12, 18].map((hour) => <path key={hour} d={`M${(WIDE * hour) / HOURS} 0V22`} class="strip-tick" />)}
    </svg>
  )
}

function StripPatterns({ id }: { readonly id: string }) {
  return (
    <defs>
      <pattern id={`${id}-out`} width="6" height="6" patternUnits="userSpaceOnUse"><path d="M-1.5 1.5L1.5-1.5M0 6L6 0M4.5 7.5L7.5 4.5" class="strip-line" /></pattern>
      <pattern id={`${id}-dark`} width="6" height="6" patternUnits="userSpaceOnUse"><circle cx="3" cy="3" r="1" class="strip-dot" /></pattern>
    </defs>
  )
}

function DayKey() {
  const id = useId()
  const mark = (fill: string, cls: string) => (
    <svg width="22" height="14" aria-hidden="true"><StripPatterns id={`${id}${cls}`} /><rect width="22" height="14" class={cls === 'fit' ? 'strip-fit' : 'strip-out'} {...(cls === 'fit' ? {} : { fill })} /></svg>
  )
  return (
    <p class="row soft day-key">
      <span>{mark('', 'fit')} {t('nextDays.fit')}</span>
      <span>{mark(`url(#${id}out-out)`, 'out')} {t('nextDays.out')}</span>
      <span>{mark(`url(#${id}dark-dark)`, 'dark')} {t('nextDays.short.dark')}</span>
      <span>{t('nextDays.ticks')}</span>
    </p>
  )
}

/** How wet the surface is now and when it dries. */
export function DryingLine({ job }: { readonly job: JobView }) {
  const drying = outlook.value?.jobs[job.id]?.timeline?.days_ahead?.drying
  if (!drying) return null
  const { early, likely, late } = drying.dry_at
  if (likely && Date.parse(likely) <= now.value.getTime()) return <p>{t('nextDays.dryNow')}</p>
  const by = wettedBy(drying.wetted_by)
  if (!likely) return <p>{t('nextDays.dryFar', { by })}</p>
  return <p>{t('nextDays.dryAt', { by, at: dayTimeOf(job, likely), early: early ? momentOf(job, early) : '–', late: late ? momentOf(job, late) : t('nextDays.later3') })}</p>
}
