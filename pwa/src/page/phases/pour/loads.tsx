import { useEffect, useRef, useState } from 'preact/hooks'
import type { LoadId } from '../../../shared/events'
import type { JobView, Load } from '../../../shared/job'
import { formatDuration } from '../../../shared/units'
import { Button, Empty, sayLeft } from '../../look'
import { correctedNow, now } from '../../shell/now'
import { units } from '../../shell/preferences'
import { t } from '../../words'
import { act, removeKept } from '../act'
import { useOpenPart } from '../open-part'
import { say } from '../quantity'
import { timeOf, whoWhen } from '../who'
import { against } from './against'
import { drumLimit, drumOf, placingPace } from './drum'
import { endAfter, isDown, isPlacing } from './fill'
import { matchWords } from './match'
import { MatchList } from './match-list'
import { PlacedTimes } from './placed-times'
import { TicketForm } from './ticket-form'

/** The loads in order, each with its next one-touch step; and a ticket form. */
export function Loads({ job }: { readonly job: JobView }) {
  const { open, setOpen, close } = useOpenPart(`${job.id}.pour.load`)
  // The form goes and the screen moves up under the thumb: what comes next is at the load just written.
  const [written, setWritten] = useState<LoadId | null>(null)
  const done = (part: string) => (saved?: LoadId): void => {
    close(part)
    setWritten(saved ?? null)
  }
  return (
    <section class="block" aria-labelledby="loads">
      <h2 id="loads">{t('pour.loads')}</h2>
      {job.loads.length === 0 && open !== 'new' && <Empty title={t('pour.noLoads')}><p>{t('pour.noLoadsDo')}</p></Empty>}
      <ul class="rows">
        {job.loads.map((load) => <LoadRow key={load.id} job={job} load={load} written={written === load.id} open={open === load.id} onOpen={(opened) => (opened ? setOpen(load.id) : close(load.id))} onDone={done(load.id)} />)}
        {job.unticketed.map((load) => (
          <li key={load.id}>
            <span>{t('pour.unticketed', { from: timeOf(job, load.placed.from), to: timeOf(job, load.placed.to) })}</span>
            {open === load.id ? <div class="full"><TicketForm job={job} forLoad={load.id} onDone={done(load.id)} /></div> : <Button expanded={false} onPress={() => setOpen(load.id)}>{t('pour.writeTicket')}</Button>}
          </li>
        ))}
      </ul>
      {open === 'new' ? <TicketForm job={job} onDone={done('new')} /> : <Button kind="main" wide expanded={false} onPress={() => setOpen('new')}>{t('pour.logLoad')}</Button>}
    </section>
  )
}

interface LoadRowProps {
  readonly job: JobView
  readonly load: Load
  /** Its ticket was saved just now. */
  readonly written: boolean
  readonly open: boolean
  readonly onOpen: (open: boolean) => void
  readonly onDone: (saved?: LoadId) => void
}

function LoadRow({ job, load, written, open, onOpen, onDone }: LoadRowProps) {
  const heading = useRef<HTMLHeadingElement>(null)
  useEffect(() => {
    if (!written) return
    heading.current?.focus({ preventScroll: true })
    heading.current?.scrollIntoView({ block: 'center' })
  }, [written])
  const age = Math.round((now.value.getTime() - Date.parse(load.batched_at)) / 60_000)
  const details = [
    say(load.volume_m3, 'volume', units.value),
    load.concrete_temp_c === null ? null : say(load.concrete_temp_c, 'temp', units.value),
    load.slump_mm === null ? null : t('pour.slumpOf', { slump: say(load.slump_mm, 'slump', units.value) }),
    load.water_added_l ? t('pour.waterOf', { water: say(load.water_added_l, 'water', units.value) }) : null,
    load.colour_bags === null ? null : t('pour.bagsOf', { bags: load.colour_bags }),
    load.plant,
    load.ticket && t('pour.paperOf', { ticket: load.ticket }),
  ]
  return (
    <li>
      <div class="full stack">
        <div class="block-head">
          <h3 ref={heading} tabIndex={-1}>{t('layout.load', { number: load.number })}</h3>
          <span class="time">{t('pour.batchedAt', { time: timeOf(job, load.batched_at) })}{!isDown(load) && age >= 0 && age < 600 && `, ${t('pour.old', { age: formatDuration(age) })}`}</span>
        </div>
        <p>{details.filter(Boolean).join(' · ')}</p>
        <DrumLine job={job} load={load} />
        <MatchList words={matchWords(load, against(job, now.value))} job={job} />
        <Placing job={job} load={load} />
        <p class="soft">{whoWhen(job, load)}</p>
        {open && <TicketForm job={job} load={load} onDone={onDone} />}
        {open && load.placed && <PlacedTimes job={job} load={load} placed={load.placed} />}
        <div class="row">
          <Button kind="quiet" expanded={open} label={`${t(open ? 'layout.close' : 'layout.edit')}: ${t('layout.load', { number: load.number })}`} onPress={() => onOpen(!open)}>{t(open ? 'layout.close' : 'layout.edit')}</Button>
          <Button kind="quiet" label={`${t('record.takeBack')}: ${t('layout.load', { number: load.number })}`} onPress={() => void removeKept(job.id, 'load.ticketed', (body) => body.load === load.id, t('pour.did.removed', { number: load.number }))}>{t('record.takeBack')}</Button>
        </div>
      </div>
    </li>
  )
}

/** By when the drum should be empty, and why then. */
function DrumLine({ job, load }: { readonly job: JobView; readonly load: Load }) {
  if (isDown(load)) return null
  const { air_c } = against(job, now.value)
  const drum = drumOf(load, drumLimit(job.mix?.drum_limit_min, air_c), placingPace(job.loads), now.value)
  if (drum.age_min > drum.limit_min) return null
  return <p>{t('pour.drum.by', { by: timeOf(job, drum.by.toISOString()), left: sayLeft(Math.floor(drum.limit_min - drum.age_min)) })} <span class="soft">{t(`pour.drum.${drum.because}`, { limit: formatDuration(drum.limit_min) })}</span></p>
}

/** "Started placing", then "Placed": one touch each, at the time of the touch. */
function Placing({ job, load }: { readonly job: JobView; readonly load: Load }) {
  const { placed, id, number } = load
  if (placed && !isPlacing(load)) return <p class="time">{t('pour.placedFromTo', { from: timeOf(job, placed.from), to: timeOf(job, placed.to) })}</p>
  if (placed) {
    const end = (): void => void act(job.id, 'load.placed', { load: id, from: placed.from, to: endAfter(placed.from, correctedNow()), area_m2: placed.area_m2 }, t('pour.did.placed', { number }))
    return (
      <>
        <p class="time">{t('pour.placingSince', { from: timeOf(job, placed.from) })}</p>
        <Button kind="main" wide onPress={end}>{t('pour.placed')}</Button>
      </>
    )
  }
  const start = (): void => {
    const at = correctedNow().toISOString()
    void act(job.id, 'load.placed', { load: id, from: at, to: at }, t('pour.did.started', { number }))
  }
  return <Button kind="main" wide onPress={start}>{t('pour.startPlacing')}</Button>
}
