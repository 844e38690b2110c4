import { findDoubles } from '../../../shared/doubles'
import type { JobView } from '../../../shared/job'
import { Notice } from '../../look'
import { now } from '../../shell/now'
import { units } from '../../shell/preferences'
import { t } from '../../words'
import { orderStep, SHORT_LOAD_M3 } from '../layout/take-off'
import { say } from '../quantity'
import { timeOf } from '../who'
import { placingPace } from './drum'
import { callOf, fillOf, isDown, isPlacing, type Call, type Fill } from './fill'

const volume = (m3: number): string => say(m3, 'volume', units.value)

/** How full the slab is, against what is on the trucks and on order; and what to tell the plant. */
export function FillNow({ job }: { readonly job: JobView }) {
  const fill = fillOf(job.slab, job.order, job.loads, job.bays)
  const { open_m3, on_truck_m3, to_come_m3, loads_to_come } = fill
  if (open_m3 === null) return <div class="stack" role="status"><p>{t('pour.fill.noSlab')}</p><p>{t('pour.fill.line', { placed: volume(fill.placed_m3), site: volume(on_truck_m3) })}</p></div>
  return (
    <section class="stack" aria-label={t('pour.fill.name')} role="status">
      <p class="big-figure">{open_m3 > 0.01 ? t('pour.fill.left', { volume: volume(open_m3) }) : t('pour.fill.full')}</p>
      <p>
        {t('pour.fill.line', { placed: volume(fill.placed_m3), site: volume(on_truck_m3) })}{' '}
        {loads_to_come === 0 && t('pour.fill.allIn', { ordered: volume(fill.ordered_m3 ?? 0) })}
        {!!loads_to_come && t('pour.fill.toCome', { loads: loads_to_come, volume: volume(to_come_m3 ?? 0) })}
      </p>
      <p class="soft">{fill.measured === null ? t('pour.fill.allowance', { share: percent(fill.allowance) }) : t('pour.fill.measured', { share: percent(fill.allowance) })}</p>
      {fill.thin && <Notice tone="warn" title={t('pour.fill.thin')}><p>{t('pour.fill.thinDo')}</p></Notice>}
      {findDoubles(job.loads, job.notes).length > 0 ? <p class="remark">{t('pour.fill.doubled')}</p> : <CallNotice job={job} fill={fill} />}
    </section>
  )
}

const percent = (share: number): string => String(Math.round(share * 100))

function CallNotice({ job, fill }: { readonly job: JobView; readonly fill: Fill }) {
  const call = callOf(fill, SHORT_LOAD_M3)
  if (call.what === 'none') return null
  const { title, todo, tone } = sayCall(call, job, fill)
  return <Notice tone={tone} title={title}>{todo && <p>{todo}</p>}</Notice>
}

interface CallSaid {
  readonly title: string
  readonly todo: string
  readonly tone: 'plain' | 'warn' | 'stop'
}

function sayCall(call: Exclude<Call, { what: 'none' }>, job: JobView, fill: Fill): CallSaid {
  if (call.what === 'short') {
    const empty = emptyAt(job, fill)
    const todo = `${t('pour.fill.shortDo', { volume: volume(upTo(call.by_m3)) })} ${empty ? t('pour.fill.emptyAt', { time: empty }) : ''}`.trim()
    return { tone: 'stop', title: t('pour.fill.short', { open: volume(fill.open_m3 ?? 0), here: volume(fill.on_truck_m3 + (fill.to_come_m3 ?? 0)) }), todo }
  }
  if (call.what === 'left_over') return { tone: 'plain', title: t('pour.fill.leftOver', { volume: volume(call.by_m3) }), todo: t('pour.fill.leftOverDo') }
  if (call.what === 'drop_last') return { tone: 'warn', title: t('pour.fill.dropLast'), todo: t('pour.fill.dropLastDo', { volume: volume(call.each_m3) }) }
  const title = t('pour.fill.cutLast', { to: volume(upTo(call.to_m3)), from: volume(call.from_m3) })
  return { tone: 'warn', title, todo: t(call.share ? 'pour.fill.cutShare' : 'pour.fill.cutLastDo') }
}

/** Plants sell by the quarter: never less than what is needed. */
function upTo(m3: number): number {
  const step = orderStep(units.value)
  return Math.ceil(m3 / step - 1e-6) * step
}

/** When the drums on site run empty at this crew's pace; null while nothing is being placed. */
function emptyAt(job: JobView, fill: Fill): string | null {
  const placing = job.loads.find((load) => isPlacing(load))
  const waiting_m3 = job.loads.filter((load) => !isDown(load) && load !== placing).reduce((sum, load) => sum + load.volume_m3, 0)
  if (!placing?.placed) return null
  const pace = placingPace(job.loads)
  const byTime = Date.parse(placing.placed.from) + (placing.volume_m3 + waiting_m3) * pace * 60_000
  const byBays = now.value.getTime() + fill.on_truck_m3 * pace * 60_000
  return timeOf(job, new Date(Math.max(now.value.getTime(), Math.min(byTime, byBays))).toISOString())
}
