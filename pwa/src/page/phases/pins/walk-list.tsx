import { useRef, useState } from 'preact/hooks'
import type { JobView, Pin } from '../../../shared/job'
import { Button } from '../../look'
import { now } from '../../shell/now'
import { units } from '../../shell/preferences'
import { me } from '../../sync/session'
import { outlook } from '../../sync/outlook'
import { t } from '../../words'
import { useForm } from '../form'
import { sayRun } from '../quantity'
import { usePinDraft } from './drop'
import { numberOf, WhosePick } from './list'
import { isWhose, type Whose } from './owners'
import { PinPlan, sideLength } from './pin-plan'
import { REACH_M } from './reach'
import { PinRow } from './row'
import { AT_FIRST, chooseWay, heeds, takeWayBack, type PlanTask, type WayChoice } from './turn'
import { walkOf, type Stop, type Walk } from './walk'
import './style.css'

/** One plan that takes pins, and the open pins in the order they are walked. */
export function PinWalk({ job, of }: { readonly job: JobView; readonly of: (pin: Pin) => boolean }) {
  const [whose, setWhose] = useState<Whose>('all')
  const [turn, setTurn] = useState(AT_FIRST)
  const pin = usePinDraft(job, 'thin_texture')
  const way = useForm<WayChoice>(`${job.id}.wayOut`, () => ({ side: null, before: null }))
  const again = useRef<HTMLSpanElement>(null)
  const walk = walkOf(job, outlook.value?.jobs[job.id]?.timeline ?? null, now.value, of, way.value.side)
  if (!walk) return <p>{t('ready.noSlab')}</p>
  const stops = walk.stops.filter((stop) => isWhose(stop.pin, whose, me.value?.person ?? null))
  const turnTo = (task: PlanTask): void => {
    if (turn.task === 'out') requestAnimationFrame(() => again.current?.querySelector('button')?.focus())
    setTurn({ task, since_ms: performance.now() })
  }
  const choose = (side: number): void => {
    way.put(chooseWay(way.value, walk.exit, side))
    turnTo('pin')
  }
  // Keys of a keyboard or a screen reader press without a pointer, and never bounce.
  const bounced = (event: MouseEvent): void => {
    if (event.detail === 0 || heeds(turn, performance.now())) return
    event.preventDefault()
    event.stopPropagation()
  }
  return (
    <section class="block" aria-labelledby="walk" onClickCapture={bounced}>
      <h2 id="walk">{t('pins.walk')}</h2>
      <p class="big-figure">{walk.stops.length === 0 ? t('pins.noneLeft') : t('pins.left', { count: walk.stops.length })}</p>
      <PinPlan job={job} walk={walk} form={pin} task={turn.task} onTask={turnTo} onSide={choose} />
      <span ref={again} class="stack">
        <WayLine job={job} walk={walk} way={way.value} asking={turn.task === 'out'} onAsk={() => turnTo('out')} onBack={() => way.put(takeWayBack(way.value))} />
      </span>
      {walk.stops.length > 0 && (
        <>
          <WhosePick open={walk.stops.map((stop) => stop.pin)} whose={whose} onPick={setWhose} />
          <p>{t('pins.walk.rule')}</p>
          {stops.length === 0 ? <p>{t('pins.noneOf')}</p> : <ol class="rows">{stops.map((stop) => <PinRow key={stop.pin.id} job={job} pin={stop.pin} number={numberOf(job, stop.pin)} hint={sayHow(stop)} />)}</ol>}
          <p class="soft">{t('pins.reach', { reach: sayRun(REACH_M, units.value) })}</p>
        </>
      )}
    </section>
  )
}

interface WayLineProps {
  readonly job: JobView
  readonly walk: Walk
  readonly way: WayChoice
  /** The plan asks for it just now. */
  readonly asking: boolean
  readonly onAsk: () => void
  readonly onBack: () => void
}

/** The side one leaves by, in words; a key to choose another, and one to take the last choice back. */
function WayLine({ job, walk, way, asking, onAsk, onBack }: WayLineProps) {
  if (walk.stops.length === 0) return null
  const [at, before] = [walk.exits.indexOf(walk.exit), way.before === null ? -1 : walk.exits.indexOf(way.before)]
  return (
    <>
      <p role="status">{asking ? '' : t('pins.walk.exit', { length: sideLength(job, walk.exit), number: at + 1, count: walk.exits.length })}</p>
      {!asking && walk.exits.length > 1 && (
        <span class="row">
          <Button onPress={onAsk}>{t('pins.walk.other')}</Button>
          {before >= 0 && <Button kind="quiet" onPress={onBack}>{t('pins.askBack', { number: before + 1 })}</Button>}
        </span>
      )}
    </>
  )
}

function sayHow({ how, over }: Stop): string {
  return over === null ? t(`pins.how.${how}`) : t('pins.how.over', { bay: over })
}
