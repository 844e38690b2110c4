import { useState } from 'preact/hooks'
import type { JobView } from '../../../shared/job'
import { Button, Choice } from '../../look'
import { now } from '../../shell/now'
import { t } from '../../words'
import { act } from '../act'
import { useForm } from '../form'
import { QuantityField } from '../quantity-field'
import { zoneOf } from '../who'
import { FormEnd } from './section'
import { dayName, plannedDays, weatherBody, type DayDraft, type DayFault } from './state'

interface WeatherDraft {
  readonly count: number
  readonly days: readonly DayDraft[]
}

/** Sky in words, as the share under cloud. */
export const SKIES = [
  { word: 'clear', cloud: 0.1 },
  { word: 'some', cloud: 0.4 },
  { word: 'most', cloud: 0.75 },
  { word: 'grey', cloud: 1 },
] as const

export const skyWord = (cloud: number): (typeof SKIES)[number]['word'] =>
  SKIES.reduce((best, one) => (Math.abs(one.cloud - cloud) < Math.abs(best.cloud - cloud) ? one : best)).word

/** The days ahead by hand: for when there is no forecast on file, or a better one in the head. */
export function WeatherForm({ job, onDone }: { readonly job: JobView; readonly onDone: () => void }) {
  const zone = zoneOf(job)
  const from = job.order ? new Date(job.order.pour_at) : now.value
  const form = useForm<WeatherDraft>(`${job.id}.weather`, () => ({ count: Math.max(3, job.weather_days.length), days: job.weather_days }))
  const [wrong, setWrong] = useState<{ readonly fault: DayFault; readonly date: string } | null>(null)
  const { value, put } = form
  const days = plannedDays(value.days, from, value.count, zone)
  const leave = (): void => {
    form.clear()
    onDone()
  }
  const save = async (): Promise<void> => {
    const read = weatherBody(days)
    if ('fault' in read) return setWrong(read)
    setWrong(null)
    if (await act(job.id, 'weather.planned', read, t('layout.did.weather'))) leave()
  }
  const change = (date: string, part: Partial<DayDraft>): void => put({ days: days.map((day) => (day.date === date ? { ...day, ...part } : day)) })
  return (
    <div class="stack">
      <p>{t('layout.weather.why')}</p>
      {days.map((day) => <DayFields key={day.date} day={day} onChange={(part) => change(day.date, part)} />)}
      <Button disabled={value.count >= 14} onPress={() => put({ count: value.count + 1, days })}>{t('layout.weather.more')}</Button>
      <FormEnd onSave={() => void save()} onDrop={leave} refusal={wrong && t(`layout.weather.fault.${wrong.fault}`, { day: dayName(wrong.date, t('record.locale')) })} />
    </div>
  )
}

function DayFields({ day, onChange }: { readonly day: DayDraft; readonly onChange: (part: Partial<DayDraft>) => void }) {
  return (
    <fieldset class="stack block">
      <legend><strong>{dayName(day.date, t('record.locale'))}</strong></legend>
      <div class="pair">
        <QuantityField label={t('layout.weather.low')} quantity="temp" value={day.low_c} min={-40} max={60} onCommit={(low_c) => onChange({ low_c })} />
        <QuantityField label={t('layout.weather.high')} quantity="temp" value={day.high_c} min={-40} max={60} onCommit={(high_c) => onChange({ high_c })} />
        <QuantityField label={t('layout.weather.humidity')} quantity="share" value={day.rh} min={0} max={1} onCommit={(rh) => onChange({ rh })} />
        <QuantityField label={t('layout.weather.wind')} quantity="speed" value={day.wind_kmh} min={0} max={200} onCommit={(wind_kmh) => onChange({ wind_kmh })} />
      </div>
      <Choice label={t('layout.weather.sky')} value={day.cloud === null ? null : skyWord(day.cloud)} options={SKIES.map(({ word }) => ({ value: word, label: t(`layout.sky.${word}`) }))} onPick={(word) => onChange({ cloud: SKIES.find((one) => one.word === word)?.cloud ?? day.cloud })} />
    </fieldset>
  )
}
