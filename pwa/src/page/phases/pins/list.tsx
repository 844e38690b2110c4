import { useState } from 'preact/hooks'
import type { JobView, Pin } from '../../../shared/job'
import { Choice } from '../../look'
import type { Point } from '../../plan/geometry'
import { me } from '../../sync/session'
import { t } from '../../words'
import { nameOf } from '../who'
import { isWhose, shares, type Whose } from './owners'
import { PinRow } from './row'
import './style.css'

export function pinMarks(job: JobView): { readonly id: string; readonly spot: Point; readonly label: string; readonly kind: 'pin' | 'pin_closed' }[] {
  return job.pins.map((pin, i) => ({ id: pin.id, spot: pin.spot, label: String(i + 1), kind: pin.open ? 'pin' : 'pin_closed' }))
}

/** The number a pin has on the plan. */
export const numberOf = (job: JobView, pin: Pin): number => job.pins.indexOf(pin) + 1

/** Pins with their number on the plan, open ones first; with a choice of whose once there are several. */
export function PinList({ job, of }: { readonly job: JobView; readonly of: (pin: Pin) => boolean }) {
  const [whose, setWhose] = useState<Whose>('all')
  const pins = job.pins.filter(of)
  if (pins.length === 0) return <p>{t('pour.noPins')}</p>
  const open = pins.filter((pin) => pin.open)
  const shown = [...open, ...pins.filter((pin) => !pin.open)].filter((pin) => isWhose(pin, whose, me.value?.person ?? null))
  return (
    <>
      <WhosePick open={open} whose={whose} onPick={setWhose} />
      {shown.length === 0 ? <p>{t('pins.noneOf')}</p> : <ul class="rows">{shown.map((pin) => <PinRow key={pin.id} job={job} pin={pin} number={numberOf(job, pin)} />)}</ul>}
    </>
  )
}

/** Whose pins to see; nothing to choose from under two open ones. */
export function WhosePick({ open, whose, onPick }: { readonly open: readonly Pin[]; readonly whose: Whose; readonly onPick: (whose: Whose) => void }) {
  const choices = shares(open, me.value?.person ?? null)
  if (open.length < 2 && whose === 'all') return null
  const known: readonly string[] = ['all', 'mine', 'free']
  const words = (of: Whose, count: number): string => (known.includes(of) ? t(`pins.${of as 'all' | 'mine' | 'free'}`, { count }) : t('pins.of', { who: nameOf(of), count }))
  return <Choice label={t('pins.whose')} value={whose} options={choices.map((one) => ({ value: one.whose, label: words(one.whose, one.count) }))} onPick={onPick} />
}
