import { useState } from 'preact/hooks'
import type { JobView, Pin } from '../../../shared/job'
import { Button } from '../../look'
import { distance, sides, signedArea, type Point } from '../../plan/geometry'
import type { PlanMark } from '../../plan/plan'
import { now } from '../../shell/now'
import { units } from '../../shell/preferences'
import { me } from '../../sync/session'
import { outlook } from '../../sync/outlook'
import { t } from '../../words'
import { useForm } from '../form'
import { JobPlan } from '../job-plan'
import { sayRun } from '../quantity'
import { numberOf, pinMarks, WhosePick } from './list'
import { isWhose, type Whose } from './owners'
import { REACH_M } from './reach'
import { PinRow } from './row'
import { walkOf, wayOutAt, type Stop, type Walk } from './walk'
import './style.css'

/** How far out the mark stands, as a share of the side. */
const OUT_SHARE = 0.05

/** The open pins in the order they are walked, on the plan and one by one. */
export function PinWalk({ job, of }: { readonly job: JobView; readonly of: (pin: Pin) => boolean }) {
  const [whose, setWhose] = useState<Whose>('all')
  const out = useForm<{ readonly side: number | null }>(`${job.id}.wayOut`, () => ({ side: null }))
  const walk = walkOf(job, outlook.value?.jobs[job.id]?.timeline ?? null, now.value, of, out.value.side)
  if (!walk) return <p>{t('ready.noSlab')}</p>
  const stops = walk.stops.filter(({ pin }) => isWhose(pin, whose, me.value?.person ?? null))
  return (
    <section class="block" aria-labelledby="walk">
      <h2 id="walk">{t('pins.walk')}</h2>
      <p class="big-figure">{walk.stops.length === 0 ? t('pins.noneLeft') : t('pins.left', { count: walk.stops.length })}</p>
      <WhosePick open={walk.stops.map(({ pin }) => pin)} whose={whose} onPick={setWhose} />
      {walk.stops.length > 0 && (
        <>
          <p>{t('pins.walk.rule')}</p>
          <WayOut job={job} walk={walk} onPick={(side) => out.put({ side })} />
          {stops.length === 0 ? <p>{t('pins.noneOf')}</p> : <ol class="rows">{stops.map((stop) => <PinRow key={stop.pin.id} job={job} pin={stop.pin} number={numberOf(job, stop.pin)} hint={sayHow(stop)} />)}</ol>}
          <p class="soft">{t('pins.reach', { reach: sayRun(REACH_M, units.value) })}</p>
        </>
      )}
    </section>
  )
}

/** The plan with the side one leaves by; a touch beside another side, or the key, turns the walk round to it. */
function WayOut({ job, walk, onPick }: { readonly job: JobView; readonly walk: Walk; readonly onPick: (side: number) => void }) {
  const corners = job.slab?.corners ?? []
  const at = walk.exits.indexOf(walk.exit)
  const next = walk.exits[(at + 1) % walk.exits.length]
  const side = sides(corners)[walk.exit]
  const length = side ? sayRun(distance(...side), units.value) : ''
  const touch = (spot: Point): void => {
    const picked = wayOutAt(spot, walk, corners)
    if (picked !== null) onPick(picked)
  }
  return (
    <>
      <JobPlan job={job} marks={[...pinMarks(job), ...outMark(job, walk.exit)]} dimensions={false} mode="spot" onSpot={touch} asks={t('pins.walk.touch')} />
      <p role="status">{t('pins.walk.exit', { length, number: at + 1, count: walk.exits.length })}</p>
      {next !== undefined && walk.exits.length > 1 && <Button onPress={() => onPick(next)}>{t('pins.walk.other')}</Button>}
    </>
  )
}

function sayHow({ how, over }: Stop): string {
  return over === null ? t(`pins.how.${how}`) : t('pins.how.over', { bay: over })
}

function outMark(job: JobView, exit: number): PlanMark[] {
  const side = sides(job.slab?.corners ?? [])[exit]
  if (!side) return []
  const [a, b] = side
  // Beside the slab, so that its word does not lie on the line.
  const [nx, ny] = [(b[1] - a[1]) * OUT_SHARE, (a[0] - b[0]) * OUT_SHARE]
  const way = signedArea(job.slab?.corners ?? []) > 0 ? 1 : -1
  return [{ id: 'out', spot: [(a[0] + b[0]) / 2 + nx * way, (a[1] + b[1]) / 2 + ny * way], label: t('pins.out'), kind: 'check' }]
}
