import { useState } from 'preact/hooks'
import type { JobView } from '../../../shared/job'
import { DecideLinks } from '../../decide/links'
import { Loud } from '../../decide/loud'
import { now } from '../../shell/now'
import { outlook } from '../../sync/outlook'
import { Button, Care, Empty, LinkButton, TextField } from '../../look'
import { units } from '../../shell/preferences'
import { t } from '../../words'
import { act } from '../act'
import { BAY_STEPS } from '../bay-state'
import { BayWork } from '../bay-steps'
import { Checklist, ListLink } from '../checklist'
import { Covers } from '../covers'
import { useForm } from '../form'
import { Frame } from '../frame'
import { HeatCare } from '../heat'
import { DropPin, PinList } from '../pins'
import { say } from '../quantity'
import { QuantityField } from '../quantity-field'
import { whoWhen } from '../who'
import { BayTide } from './bay-tide'
import { Doubles } from './doubles-card'
import { FillNow } from './fill-now'
import { Loads } from './loads'
import { NextLine } from './next-line'
import './style.css'

export { BayWork }

/** Pour day: what is left to fill, the loads, the bays, debris, the weather as it is. */
export function PourScreen({ job }: { readonly job: JobView }) {
  if (!job.order && job.loads.length === 0 && !job.slab) {
    return (
      <Frame job={job} phase="pour" title={t('pour.title')}>
        <Empty title={t('pour.notOrdered')} action={<LinkButton kind="main" href={`#/job/${job.id}/layout`}>{t('pour.toLayout')}</LinkButton>}>
          <p>{t('pour.notOrderedDo')}</p>
        </Empty>
        <Loads job={job} />
      </Frame>
    )
  }
  return (
    <Frame job={job} phase="pour" title={t('pour.title')} next={<NextLine job={job} />}>
      <Loud job={job} timeline={outlook.value?.jobs[job.id]?.timeline} now={now.value} />
      <Doubles job={job} />
      <div class="split">
        <div class="stack">
          <FillNow job={job} />
          <Loads job={job} />
          <DecideLinks job={job} hours />
        </div>
        <div class="stack">
          <BayWork job={job} steps={BAY_STEPS} title={t('pour.bays')} />
          <BayTide job={job} />
          <ul class="rows"><ListLink job={job} list="debris" /></ul>
          <WeatherNote job={job} />
          <Covers job={job} />
          <Care what="wet_concrete" />
          <HeatCare job={job} />
        </div>
      </div>
    </Frame>
  )
}

/** Debris: walk, look up, pin what you can't reach yet. */
export function DebrisList({ job }: { readonly job: JobView }) {
  return (
    <Frame job={job} phase="pour" list title={t('ready.list.debris')}>
      <Checklist job={job} list="debris" />
      <section class="block" aria-labelledby="debris-pins">
        <h2 id="debris-pins">{t('pour.pins')}</h2>
        <PinList job={job} of={(pin) => pin.what === 'debris'} />
      </section>
      <section class="block" aria-labelledby="debris-drop">
        <h2 id="debris-drop">{t('texture.pin')}</h2>
        <DropPin job={job} first="debris" />
      </section>
    </Frame>
  )
}

interface WeatherDraft {
  readonly air_temp_c: number | null
  readonly rh: number | null
  readonly wind_kmh: number | null
  readonly note: string
}

/** The weather as it is on the slab: it corrects the forecast for the next hours. */
export function WeatherNote({ job }: { readonly job: JobView }) {
  const form = useForm<WeatherDraft>(`${job.id}.weatherNote`, () => ({ air_temp_c: null, rh: null, wind_kmh: null, note: '' }))
  const { value, put, clear } = form
  const last = job.weather_notes[job.weather_notes.length - 1]
  const filled = value.air_temp_c !== null || value.rh !== null || value.wind_kmh !== null || value.note.trim() !== ''
  const [tried, setTried] = useState(false)
  const write = async (raining: boolean | null): Promise<void> => {
    setTried(!filled && raining === null)
    if (!filled && raining === null) return
    const { air_temp_c, rh, wind_kmh } = value
    if (await act(job.id, 'weather.noted', { air_temp_c, rh, wind_kmh, raining, note: value.note.trim() || null }, t('pour.did.weather'))) clear()
  }
  return (
    <section class="block" aria-labelledby="weather-note">
      <h2 id="weather-note">{t('pour.weather')}</h2>
      {last && (
        <p>
          {[last.air_temp_c === null ? null : say(last.air_temp_c, 'temp', units.value), last.rh === null ? null : say(last.rh, 'share', units.value), last.wind_kmh === null ? null : say(last.wind_kmh, 'speed', units.value), last.raining ? t('pour.raining') : null, last.note].filter(Boolean).join(' · ')}{' '}
          <span class="soft">{whoWhen(job, last)}</span>
        </p>
      )}
      <div class="pair">
        <QuantityField label={t('pour.air')} quantity="temp" value={value.air_temp_c} min={-40} max={60} onCommit={(air_temp_c) => put({ air_temp_c })} />
        <QuantityField label={t('layout.weather.humidity')} quantity="share" value={value.rh} min={0} max={1} onCommit={(rh) => put({ rh })} />
        <QuantityField label={t('layout.weather.wind')} quantity="speed" value={value.wind_kmh} min={0} max={200} onCommit={(wind_kmh) => put({ wind_kmh })} hint={t('pour.windHint')} />
        <TextField label={t('pour.note')} value={value.note} maxLength={500} onCommit={(note) => put({ note })} />
      </div>
      {tried && <p class="refusal" role="alert">{t('pour.nothingRead')}</p>}
      <div class="keys">
        <Button onPress={() => void write(null)}>{t('pour.saveWeather')}</Button>
        <Button onPress={() => void write(true)}>{t('pour.rainNow')}</Button>
      </div>
    </section>
  )
}
