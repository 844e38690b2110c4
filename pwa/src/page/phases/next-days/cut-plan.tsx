import { useState } from 'preact/hooks'
import { newId } from '../../../shared/uuid'
import type { CutId } from '../../../shared/events'
import type { JobView } from '../../../shared/job'
import { formatDuration } from '../../../shared/units'
import { Button, Notice, Tick } from '../../look'
import type { Point } from '../../plan/geometry'
import { now } from '../../shell/now'
import { units } from '../../shell/preferences'
import { outlook } from '../../sync/outlook'
import type { SawPlan } from '../../sync/days'
import { t } from '../../words'
import { act, actAll, removeKept, takeBack } from '../act'
import { JobPlan } from '../job-plan'
import { sayRun } from '../quantity'
import { momentOf, nameOf } from '../who'
import { CutDrawing } from './cut-drawing'
import { cutLines, nextOrder, proposeCuts, swapped, type CutLine } from './cuts'
import { freshCut } from './state'

/** The cuts in order: start by, each with its own close, ticked by the cut. */
export function CutPlan({ job }: { readonly job: JobView }) {
  const plan = outlook.value?.jobs[job.id]?.timeline?.saw_plan
  const lines = cutLines(job, plan)
  const [changing, setChanging] = useState(false)
  if (!job.slab || (job.cuts_done && lines.length === 0)) return null
  if (lines.length === 0) return <Propose job={job} />
  return (
    <section class="stack" aria-labelledby="cut-plan">
      <div class="block-head">
        <h3 id="cut-plan">{t('nextDays.cutPlan')}</h3>
        {!job.cuts_done && <Button expanded={changing} label={t(changing ? 'layout.close' : 'nextDays.changeCuts')} onPress={() => setChanging(!changing)}>{t(changing ? 'layout.close' : 'nextDays.changeCuts')}</Button>}
      </div>
      {plan && !job.cuts_done && <StartBy job={job} plan={plan} lines={lines} />}
      <CutDrawing job={job} lines={lines} />
      <ol class="bare stack cut-list">{lines.map((line) => <li key={line.id}>{changing ? <ChangeLine job={job} line={line} /> : <CutTick job={job} line={line} left={lines.filter((one) => !one.made).length} />}</li>)}</ol>
      {changing && <AddCut job={job} />}
      <p class="soft">{t('nextDays.orderRule')}</p>
    </section>
  )
}

/** When the saw must start for every cut to be met, and whether one saw can. */
function StartBy({ job, plan, lines }: { readonly job: JobView; readonly plan: SawPlan; readonly lines: readonly CutLine[] }) {
  if (!plan.start_by || plan.cuts.every((cut) => cut.made_at)) return null
  const minutes = Math.floor((Date.parse(plan.start_by) - now.value.getTime()) / 60_000)
  const short = lines.find((line) => line.id === plan.short_from)
  const past = !!short?.ahead?.closes && Date.parse(short.ahead.closes) <= now.value.getTime()
  const head = minutes > 0 ? t('nextDays.startBy', { at: momentOf(job, plan.start_by), left: formatDuration(minutes) }) : t('nextDays.startNow', { at: momentOf(job, plan.start_by) })
  return (
    <Notice tone={short ? 'stop' : minutes <= 45 ? 'warn' : 'plain'} title={head}>
      <p>{t('nextDays.sawTime', { length: sayRun(plan.left_m, units.value), minutes: formatDuration(Math.ceil(plan.minutes_left)), opens: plan.opens ? momentOf(job, plan.opens) : '–' })}</p>
      {short && past && <p><strong>{t('nextDays.shortPast', { number: short.number })}</strong></p>}
      {short && !past && <p><strong>{t('nextDays.shortFrom', { number: short.number })}</strong> {plan.saws ? t('nextDays.sawsNeeded', { saws: plan.saws }) : t('nextDays.sawsMany')}</p>}
    </Notice>
  )
}

function CutTick({ job, line, left }: { readonly job: JobView; readonly line: CutLine; readonly left: number }) {
  const { ahead, made } = line
  const label = t('nextDays.cutLine', { number: line.number, length: sayRun(line.length_m, units.value) })
  const tick = (): void => {
    const { depth_m, saw } = freshCut(job)
    const body = { length_m: Number(line.length_m.toFixed(3)), depth_m, saw, cut: line.id, from: [...line.from] as [number, number], to: [...line.to] as [number, number], last: left === 1 }
    void act(job.id, 'cut.made', body, left === 1 ? t('nextDays.did.lastCut', { length: sayRun(line.length_m, units.value) }) : t('nextDays.did.cut', { length: sayRun(line.length_m, units.value) }))
  }
  const note = made || !ahead ? null : [ahead.opens && Date.parse(ahead.opens) > now.value.getTime() ? t('nextDays.cutFrom', { at: momentOf(job, ahead.opens) }) : null, ahead.closes ? t('nextDays.cutBy', { at: momentOf(job, ahead.closes) }) : null, ahead.late ? t('nextDays.cutLate') : null].filter(Boolean).join(', ')
  return <Tick label={label} done={made !== null} by={made ? nameOf(made.author) : null} at={made ? momentOf(job, made.at) : null} note={note || null} onTick={tick} onUndo={() => made && void takeBack(job.id, made.event, t('nextDays.did.cutGone'))} />
}

function ChangeLine({ job, line }: { readonly job: JobView; readonly line: CutLine }) {
  const label = t('nextDays.cutLine', { number: line.number, length: sayRun(line.length_m, units.value) })
  const move = async (ways: -1 | 1): Promise<void> => {
    const pair = swapped(job.planned_cuts, line.id, ways)
    if (!pair) return
    const [one, other] = pair
    const [first, second] = one.order === other.order ? [one.order + ways, other.order] : [other.order, one.order]
    const bodies = [bodyOf(other.id, other.from, other.to, Math.max(0, second), other.load), bodyOf(one.id, one.from, one.to, Math.max(0, first), one.load)]
    await actAll(job.id, 'cut.planned', bodies, t('nextDays.did.moved', { cut: label }))
  }
  return (
    <div class="cut-change">
      <span>{label}</span>
      <div class="row">
        <Button label={`${t('nextDays.sooner')}: ${label}`} disabled={line.number === 1} onPress={() => void move(-1)}>↑ {t('nextDays.sooner')}</Button>
        <Button label={`${t('nextDays.laterCut')}: ${label}`} disabled={line.number === job.planned_cuts.length} onPress={() => void move(1)}>↓ {t('nextDays.laterCut')}</Button>
        {!line.made && <Button kind="quiet" label={`${t('nextDays.removeCut')}: ${label}`} onPress={() => void removeKept(job.id, 'cut.planned', (body) => body.cut === line.id, t('nextDays.did.cutRemoved', { cut: label }))}>{t('nextDays.removeCut')}</Button>}
      </div>
    </div>
  )
}

function bodyOf(cut: CutId, from: Point, to: Point, order: number, load: JobView['planned_cuts'][number]['load'] = null) {
  return { cut, from: [...from] as [number, number], to: [...to] as [number, number], order, load }
}

/** Nothing planned yet: cuts drawn by length, taken with one touch. */
function Propose({ job }: { readonly job: JobView }) {
  const cuts = proposeCuts(job)
  const take = (): void => {
    const bodies = cuts.map((cut, i) => bodyOf(newId<CutId>(), cut.from, cut.to, i + 1))
    void actAll(job.id, 'cut.planned', bodies, t('nextDays.did.tookPlan', { count: cuts.length }))
  }
  const lines = cuts.map((cut, i): CutLine => ({ id: String(i) as CutId, number: i + 1, from: cut.from, to: cut.to, length_m: Math.hypot(cut.to[0] - cut.from[0], cut.to[1] - cut.from[1]), made: null, ahead: null }))
  return (
    <section class="stack" aria-labelledby="cut-plan">
      <h3 id="cut-plan">{t('nextDays.cutPlan')}</h3>
      {cuts.length === 0 ? (
        <p>{t('nextDays.noCutNeeded')}</p>
      ) : (
        <>
          <p>{t('nextDays.proposed', { count: cuts.length, length: sayRun(lines.reduce((sum, line) => sum + line.length_m, 0), units.value) })}</p>
          <CutDrawing job={job} lines={lines} />
          <Button kind="main" onPress={take}>{t('nextDays.takePlan')}</Button>
          <p class="soft">{t('nextDays.orderRule')}</p>
        </>
      )}
    </section>
  )
}

/** A cut added by two touches on the plan, or two spots steered with the arrow keys. */
function AddCut({ job }: { readonly job: JobView }) {
  const [from, setFrom] = useState<Point | null>(null)
  const [spot, setSpot] = useState<Point | null>(null)
  const [open, setOpen] = useState(false)
  const take = async (): Promise<void> => {
    if (!spot) return
    if (!from) {
      setFrom(spot)
      return
    }
    if (from[0] === spot[0] && from[1] === spot[1]) return
    if (await act(job.id, 'cut.planned', bodyOf(newId<CutId>(), from, spot, nextOrder(job.planned_cuts)), t('nextDays.did.added'))) {
      setFrom(null)
      setSpot(null)
      setOpen(false)
    }
  }
  if (!open) return <Button expanded={false} onPress={() => setOpen(true)}>{t('nextDays.addCut')}</Button>
  return (
    <div class="stack">
      <p>{t(from ? 'nextDays.touchEnd' : 'nextDays.touchStart')}</p>
      <JobPlan job={job} states={false} mode="spot" spot={spot} onSpot={setSpot} marks={from ? [{ id: 'from', spot: from, label: t('nextDays.startMark'), kind: 'check' }] : []} />
      <div class="keys">
        <Button kind="main" disabled={!spot} onPress={() => void take()}>{t(from ? 'nextDays.endHere' : 'nextDays.startHere')}</Button>
        <Button kind="quiet" onPress={() => { setFrom(null); setSpot(null); setOpen(false) }}>{t('layout.drop')}</Button>
      </div>
    </div>
  )
}
