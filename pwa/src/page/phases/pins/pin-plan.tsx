import { useEffect, useRef } from 'preact/hooks'
import type { JobView } from '../../../shared/job'
import { Button } from '../../look'
import { distance, sides, type Point } from '../../plan/geometry'
import { units } from '../../shell/preferences'
import { t } from '../../words'
import type { Form } from '../form'
import { JobPlan } from '../job-plan'
import { fingers } from '../pour/ticket-fields'
import { sayRun } from '../quantity'
import { PinDetails, type PinDraft } from './drop'
import { pinMarks } from './list'
import type { PlanTask } from './turn'
import { wayOutAt, type Walk } from './walk'

interface PinPlanProps {
  readonly job: JobView
  readonly walk: Walk
  readonly form: Form<PinDraft>
  /** What a touch on the plan does now. */
  readonly task: PlanTask
  readonly onTask: (task: PlanTask) => void
  readonly onSide: (side: number) => void
}

/** The only plan of the touch-up pass: it takes pins, but for the moment in which the way out is asked for. */
export function PinPlan(props: PinPlanProps) {
  return props.task === 'out' ? <AskWayOut {...props} /> : <TakePins {...props} />
}

function TakePins({ job, walk, form, onTask }: PinPlanProps) {
  const spot = form.value.spot
  const details = useRef<HTMLDivElement>(null)
  const set = spot !== null
  // Gloves hold small screens: what the spot is asked for comes up under it.
  useEffect(() => {
    if (set && fingers()) details.current?.querySelector('.look-button-main')?.scrollIntoView({ block: 'nearest' })
  }, [set])
  const put = (to: Point): void => {
    if (!spot) onTask('pin') // what lies under the finger changes
    form.put({ spot: to })
  }
  const ways = walk.stops.length > 0 ? [{ side: walk.exit, label: t('pins.out'), picked: true }] : []
  return (
    <div class="stack">
      <h3>{t('pins.take')}</h3>
      <JobPlan job={job} marks={pinMarks(job)} dimensions={false} ways={ways} mode="spot" spot={spot} onSpot={put} asks="" />
      <p role="status">{spot ? t('pins.spotSet') : ''}</p>
      {spot && <div class="stack" ref={details}><PinDetails job={job} form={form} onGone={() => onTask('pin')} /></div>}
    </div>
  )
}

/** Takes the plan over until a side is touched, by the plan or by its key; then, or with Escape, it takes pins again. */
function AskWayOut({ job, walk, onTask, onSide }: PinPlanProps) {
  const heading = useRef<HTMLHeadingElement>(null)
  useEffect(() => {
    heading.current?.focus()
    heading.current?.scrollIntoView({ block: 'start' })
  }, [])
  const corners = job.slab?.corners ?? []
  const number = (side: number): number => walk.exits.indexOf(side) + 1
  const touch = (spot: Point): void => {
    const side = wayOutAt(spot, walk, corners)
    if (side !== null) onSide(side)
  }
  return (
    <div class="stack" role="group" aria-labelledby="way-out" onKeyDown={(event) => { if (event.key === 'Escape') onTask('pin') }}>
      <h3 id="way-out" class="pin-ask" ref={heading} tabIndex={-1}>{t('pins.ask')}</h3>
      <JobPlan job={job} marks={pinMarks(job)} dimensions={false} ways={walk.exits.map((side) => ({ side, label: String(number(side)), picked: side === walk.exit }))} mode="side" onSpot={touch} asks={t('pins.askDo')} />
      <div class="keys pin-sides">
        {walk.exits.map((side) => (
          <button key={side} type="button" class="look-button look-button-plain" aria-pressed={side === walk.exit} onClick={() => onSide(side)}>
            {t('pins.side', { number: number(side), length: sideLength(job, side) })}
          </button>
        ))}
      </div>
      <div><Button kind="quiet" onPress={() => onTask('pin')}>{t('pins.askLeave', { number: number(walk.exit) })}</Button></div>
    </div>
  )
}

/** The length of a side of the slab, in the person's units. */
export function sideLength(job: JobView, side: number): string {
  const found = sides(job.slab?.corners ?? [])[side]
  return found ? sayRun(distance(...found), units.value) : ''
}
