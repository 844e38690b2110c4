import { useState } from 'preact/hooks'
import type { JobView, Pin } from '../../../shared/job'
import { sides } from '../../plan/geometry'
import type { PlanMark } from '../../plan/plan'
import { now } from '../../shell/now'
import { units } from '../../shell/preferences'
import { me } from '../../sync/session'
import { outlook } from '../../sync/outlook'
import { t } from '../../words'
import { JobPlan } from '../job-plan'
import { sayRun } from '../quantity'
import { numberOf, pinMarks, WhosePick } from './list'
import { isWhose, type Whose } from './owners'
import { REACH_M } from './reach'
import { PinRow } from './row'
import { walkOf, type Stop } from './walk'
import './style.css'

/** The open pins in the order they are walked, on the plan and one by one. */
export function PinWalk({ job, of }: { readonly job: JobView; readonly of: (pin: Pin) => boolean }) {
  const [whose, setWhose] = useState<Whose>('all')
  const walk = walkOf(job, outlook.value?.jobs[job.id]?.timeline ?? null, now.value, of)
  if (!walk) return <p>{t('ready.noSlab')}</p>
  const stops = walk.stops.filter(({ pin }) => isWhose(pin, whose, me.value?.person ?? null))
  return (
    <section class="block" aria-labelledby="walk">
      <h2 id="walk">{t('pins.walk')}</h2>
      <p class="big-figure">{walk.stops.length === 0 ? t('pins.noneLeft') : t('pins.left', { count: walk.stops.length })}</p>
      <WhosePick open={walk.stops.map(({ pin }) => pin)} whose={whose} onPick={setWhose} />
      {walk.stops.length > 0 && (
        <>
          <p>{t('pins.walk.rule')} {t('pins.walk.exit')}</p>
          <JobPlan job={job} marks={[...pinMarks(job), ...outMark(job, walk.exit)]} dimensions={false} />
          {stops.length === 0 ? <p>{t('pins.noneOf')}</p> : <ol class="rows">{stops.map((stop) => <PinRow key={stop.pin.id} job={job} pin={stop.pin} number={numberOf(job, stop.pin)} hint={sayHow(stop)} />)}</ol>}
          <p class="soft">{t('pins.reach', { reach: sayRun(REACH_M, units.value) })}</p>
        </>
      )}
    </section>
  )
}

function sayHow({ how, over }: Stop): string {
  return over === null ? t(`pins.how.${how}`) : t('pins.how.over', { bay: over })
}

function outMark(job: JobView, exit: number): PlanMark[] {
  const side = sides(job.slab?.corners ?? [])[exit]
  if (!side) return []
  const [a, b] = side
  return [{ id: 'out', spot: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2], label: t('pins.out'), kind: 'check' }]
}
