import { useState } from 'preact/hooks'
import type { JobView, Load } from '../../../shared/job'
import { formatDuration } from '../../../shared/units'
import { Button, Empty, Notice, TextField } from '../../look'
import { correctedNow, now } from '../../shell/now'
import { units } from '../../shell/preferences'
import { t } from '../../words'
import { act, removeKept } from '../act'
import { useOpenPart } from '../open-part'
import { say } from '../quantity'
import { nearestInstant, wallTime } from '../wall-clock'
import { timeOf, whoWhen, zoneOf } from '../who'
import { endAfter, fillOf, isDown, isPlacing } from './fill'
import { TicketForm } from './ticket-form'
import { placingRefusal, type PlacingRefusal } from './ticket'

/** How full the slab is, in the one figure that decides the next call to the plant. */
export function FillNow({ job }: { readonly job: JobView }) {
  const fill = fillOf(job.slab?.volume_m3, job.order, job.loads)
  const yards = (m3: number): string => say(m3, 'volume', units.value)
  return (
    <div class="stack" role="status">
      {fill.left_m3 === null ? <p>{t('pour.fill.noSlab')}</p> : (
        <p class="big-figure">{fill.left_m3 > 0.01 ? t('pour.fill.left', { volume: yards(fill.left_m3) }) : t('pour.fill.full')}</p>
      )}
      <p>
        {t('pour.fill.line', { placed: yards(fill.placed_m3), site: yards(fill.on_site_m3) })}{' '}
        {fill.loads_to_come === 0 && t('pour.fill.allIn', { ordered: yards(fill.ordered_m3 ?? 0) })}
        {!!fill.loads_to_come && t('pour.fill.toCome', { loads: fill.loads_to_come, ordered: yards(fill.ordered_m3 ?? 0) })}
      </p>
      {fill.short_m3 > 0.05 && <Notice tone="warn" title={t('pour.fill.short', { volume: yards(fill.short_m3) })}><p>{t('pour.fill.shortDo')}</p></Notice>}
    </div>
  )
}

/** The loads in order, each with its next one-touch step; and a ticket form. */
export function Loads({ job }: { readonly job: JobView }) {
  const { open, setOpen, close } = useOpenPart(`${job.id}.pour.load`)
  return (
    <section class="block" aria-labelledby="loads">
      <h2 id="loads">{t('pour.loads')}</h2>
      {job.loads.length === 0 && open !== 'new' && <Empty title={t('pour.noLoads')}><p>{t('pour.noLoadsDo')}</p></Empty>}
      <ul class="rows">
        {job.loads.map((load) => <LoadRow key={load.id} job={job} load={load} open={open === load.id} onOpen={(opened) => (opened ? setOpen(load.id) : close(load.id))} />)}
        {job.unticketed.map((load) => (
          <li key={load.id}>
            <span>{t('pour.unticketed', { from: timeOf(job, load.placed.from), to: timeOf(job, load.placed.to) })}</span>
            {open === load.id ? <div class="full"><TicketForm job={job} forLoad={load.id} onDone={() => close(load.id)} /></div> : <Button onPress={() => setOpen(load.id)}>{t('pour.writeTicket')}</Button>}
          </li>
        ))}
      </ul>
      {open === 'new' ? <TicketForm job={job} onDone={() => close('new')} /> : <Button kind="main" wide onPress={() => setOpen('new')}>{t('pour.logLoad')}</Button>}
    </section>
  )
}

function LoadRow({ job, load, open, onOpen }: { readonly job: JobView; readonly load: Load; readonly open: boolean; readonly onOpen: (open: boolean) => void }) {
  const age = Math.round((now.value.getTime() - Date.parse(load.batched_at)) / 60_000)
  const details = [
    say(load.volume_m3, 'volume', units.value),
    load.concrete_temp_c === null ? null : say(load.concrete_temp_c, 'temp', units.value),
    load.slump_mm === null ? null : t('pour.slumpOf', { slump: say(load.slump_mm, 'slump', units.value) }),
    load.water_added_l ? t('pour.waterOf', { water: say(load.water_added_l, 'water', units.value) }) : null,
    load.ticket && t('pour.paperOf', { ticket: load.ticket }),
  ]
  return (
    <li>
      <div class="full stack">
        <div class="block-head">
          <h3>{t('layout.load', { number: load.number })}</h3>
          <span class="time">{t('pour.batchedAt', { time: timeOf(job, load.batched_at) })}{!isDown(load) && age >= 0 && age < 600 && `, ${t('pour.old', { age: formatDuration(age) })}`}</span>
        </div>
        <p>{details.filter(Boolean).join(' · ')}</p>
        <Placing job={job} load={load} />
        <p class="soft">{whoWhen(job, load)}</p>
        {open && <TicketForm job={job} load={load} onDone={() => onOpen(false)} />}
        {open && load.placed && <PlacedTimes job={job} load={load} />}
        <div class="row">
          <Button kind="quiet" expanded={open} label={`${t('layout.edit')}: ${t('layout.load', { number: load.number })}`} onPress={() => onOpen(!open)}>{t(open ? 'layout.close' : 'layout.edit')}</Button>
          <Button kind="quiet" label={`${t('record.takeBack')}: ${t('layout.load', { number: load.number })}`} onPress={() => void removeKept(job.id, 'load.ticketed', (body) => body.load === load.id, t('pour.did.removed', { number: load.number }))}>{t('record.takeBack')}</Button>
        </div>
      </div>
    </li>
  )
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

/** Puts right the times of placing when the touch came late. */
function PlacedTimes({ job, load }: { readonly job: JobView; readonly load: Load }) {
  const [wrong, setWrong] = useState<PlacingRefusal | null>(null)
  const zone = zoneOf(job)
  const { placed } = load
  if (!placed) return null
  const put = (end: 'from' | 'to', text: string): void => {
    const at = nearestInstant(text, new Date(placed[end]), zone)?.toISOString()
    if (!at) return
    const next = { from: placed.from, to: placed.to, [end]: at }
    const refused = placingRefusal(load.batched_at, next.from, next.to, correctedNow())
    setWrong(refused)
    if (!refused) void act(job.id, 'load.placed', { load: load.id, from: next.from, to: next.to, area_m2: placed.area_m2 }, t('pour.did.placed', { number: load.number }))
  }
  return (
    <div class="pair">
      <TextField label={t('pour.placedFrom')} type="time" value={wallTime(new Date(placed.from), zone)} onCommit={(text) => put('from', text)} />
      <TextField label={t('pour.placedTo')} type="time" value={wallTime(new Date(placed.to), zone)} onCommit={(text) => put('to', text)} />
      {wrong && <p class="refusal" role="alert">{t(`pour.refuse.${wrong}`)}</p>}
    </div>
  )
}
