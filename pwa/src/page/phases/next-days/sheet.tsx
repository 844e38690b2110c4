import { useState } from 'preact/hooks'
import type { BayId } from '../../../shared/events'
import type { JobView } from '../../../shared/job'
import { Button, Choice, TextField } from '../../look'
import { now } from '../../shell/now'
import { t } from '../../words'
import { act, takeBack } from '../act'
import { useForm } from '../form'
import { instantOf, wallDateTime } from '../wall-clock'
import { dayTimeOf, whoWhen, zoneOf } from '../who'

/** The published method leaves the sheet 16 h (ASTM D4263; the hours from memory, not verified). */
export const SHEET_LEAST_H = 16

interface Draft {
  readonly laid: string
  readonly result: 'dry' | 'damp' | null
  readonly bay: BayId | null
}

/** A plastic sheet left overnight: it outweighs the sum, dry or damp. */
export function SheetTests({ job }: { readonly job: JobView }) {
  const zone = zoneOf(job)
  const { value, put, clear } = useForm<Draft>(`${job.id}.sheet`, () => ({ laid: wallDateTime(new Date(now.value.getTime() - SHEET_LEAST_H * 3_600_000), zone), result: null, bay: null }))
  const [fault, setFault] = useState(false)
  const laid = instantOf(value.laid, zone)
  const hours = laid ? (now.value.getTime() - laid.getTime()) / 3_600_000 : null
  const save = async (): Promise<void> => {
    const wrong = !laid || hours === null || hours <= 0
    setFault(wrong)
    if (wrong || value.result === null) return
    if (await act(job.id, 'sheet.tested', { laid_at: laid.toISOString(), dry: value.result === 'dry', bay: value.bay }, t(`nextDays.did.sheet_${value.result}`))) clear()
  }
  const bays = job.bays.map((bay) => ({ value: bay.id, label: bay.label }))
  return (
    <details class="stack sheet">
      <summary>{t('nextDays.sheet')}</summary>
      <div class="stack">
        <p>{t('nextDays.sheetHow')}</p>
        <TextField label={t('nextDays.sheetLaid')} type="datetime-local" value={value.laid} error={fault ? t('nextDays.sheetFault') : null} onCommit={(text) => put({ laid: text })} />
        {hours !== null && hours > 0 && hours < SHEET_LEAST_H - 0.01 && <p class="remark">{t('nextDays.sheetShort', { hours: Math.floor(hours), least: SHEET_LEAST_H })}</p>}
        {bays.length > 1 && <Choice label={t('nextDays.sheetBay')} value={value.bay} options={bays} onPick={(bay) => put({ bay })} />}
        <Choice label={t('nextDays.sheetUnder')} value={value.result} options={[{ value: 'dry', label: t('nextDays.sheetDry') }, { value: 'damp', label: t('nextDays.sheetDamp') }]} onPick={(result) => put({ result })} />
        <Button kind="main" disabled={value.result === null} onPress={() => void save()}>{t('nextDays.saveSheet')}</Button>
      </div>
      {job.sheet_tests.length > 0 && (
        <ul class="rows">
          {[...job.sheet_tests].reverse().map((test) => {
            const bay = job.bays.find((one) => one.id === test.bay)?.label
            const words = `${bay ? `${bay}: ` : ''}${t(test.dry ? 'nextDays.sheetDry' : 'nextDays.sheetDamp')}`
            return (
              <li key={test.event}>
                <span>
                  {words} <span class="soft">{t('nextDays.sheetSince', { at: dayTimeOf(job, test.laid_at) })}, {whoWhen(job, test)}</span>
                </span>
                <Button kind="quiet" label={`${t('record.takeBack')}: ${words}`} onPress={() => void takeBack(job.id, test.event, t('nextDays.did.gone'))}>{t('record.takeBack')}</Button>
              </li>
            )
          })}
        </ul>
      )}
    </details>
  )
}
