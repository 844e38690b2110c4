import { useRef, useState } from 'preact/hooks'
import type { JobView, Load, Placed } from '../../../shared/job'
import { TextField } from '../../look'
import { correctedNow } from '../../shell/now'
import { t } from '../../words'
import { act } from '../act'
import { nearestInstant, wallTime } from '../wall-clock'
import { zoneOf } from '../who'
import { PlacingEdit } from './placing'
import type { PlacingRefusal } from './ticket'

/** Puts right the times of placing when the touch came late. */
export function PlacedTimes({ job, load, placed }: { readonly job: JobView; readonly load: Load; readonly placed: Placed }) {
  const [wrong, setWrong] = useState<PlacingRefusal | null>(null)
  const edit = useRef<PlacingEdit | null>(null)
  edit.current ??= new PlacingEdit(placed)
  edit.current.follow(placed)
  const zone = zoneOf(job)
  const put = async (end: 'from' | 'to', text: string): Promise<void> => {
    const at = nearestInstant(text, new Date(placed[end]), zone)?.toISOString()
    const done = at && edit.current?.put(end, at, load.batched_at, correctedNow())
    if (!done) return
    setWrong('refused' in done ? done.refused : null)
    if ('refused' in done) return
    const kept = await act(job.id, 'load.placed', { load: load.id, ...done.write, area_m2: placed.area_m2 }, t('pour.did.placed', { number: load.number }))
    if (!kept) edit.current?.drop()
  }
  return (
    <div class="pair">
      <TextField label={t('pour.placedFrom')} type="time" value={wallTime(new Date(placed.from), zone)} onCommit={(text) => void put('from', text)} />
      <TextField label={t('pour.placedTo')} type="time" value={wallTime(new Date(placed.to), zone)} onCommit={(text) => void put('to', text)} />
      {wrong && <p class="refusal" role="alert">{t(`pour.refuse.${wrong}`)}</p>}
    </div>
  )
}
