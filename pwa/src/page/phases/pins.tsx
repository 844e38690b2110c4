import type { PhotoId, PinDropped, PinId } from '../../shared/events'
import type { JobView, Pin } from '../../shared/job'
import { newId } from '../../shared/uuid'
import { Button, Choice, TextField } from '../look'
import type { Point } from '../plan/geometry'
import { bayAt } from '../plan/plan'
import { t } from '../words'
import { act, removeKept, takeBack } from './act'
import { useForm } from './form'
import { JobPlan } from './job-plan'
import { Photo, PhotoButton } from './photo'
import { whoWhen } from './who'

type What = PinDropped['what']
export const PIN_KINDS: readonly What[] = ['debris', 'thin_texture', 'ravelled_edge', 'crack', 'colour_patch', 'splash', 'other']

interface PinDraft {
  readonly spot: Point | null
  readonly what: What
  readonly note: string
  readonly photo: PhotoId | null
}

const shortNote = (note: string): string | null => note.trim() || null

/** Drops a pin: touch the plan, say what it is, photo if it helps. */
export function DropPin({ job, first }: { readonly job: JobView; readonly first: What }) {
  const form = useForm<PinDraft>(`${job.id}.pin.${first}`, () => ({ spot: null, what: first, note: '', photo: null }))
  const { value, put, clear } = form
  if (!job.slab) return <p>{t('ready.noSlab')}</p>
  const drop = async (): Promise<void> => {
    if (!value.spot) return
    const bay = bayAt(job.bays, value.spot)?.id ?? null
    const body = { pin: newId<PinId>(), spot: value.spot, what: value.what, bay, note: shortNote(value.note), photo: value.photo }
    if (await act(job.id, 'pin.dropped', body, t('pour.did.pin', { what: t(`pour.pin.${value.what}`) }))) clear()
  }
  return (
    <div class="stack">
      <JobPlan job={job} marks={pinMarks(job)} mode="spot" spot={value.spot} onSpot={(spot) => put({ spot })} />
      <Choice label={t('pour.pin.what')} value={value.what} options={PIN_KINDS.map((what) => ({ value: what, label: t(`pour.pin.${what}`) }))} onPick={(what) => put({ what })} />
      <TextField label={t('pour.pin.note')} value={value.note} maxLength={500} onCommit={(note) => put({ note })} />
      <div class="row">
        <PhotoButton label={t(value.photo ? 'pour.photo.again' : 'pour.photo.take')} onKept={(photo) => put({ photo })} />
        {value.photo && <Photo photo={value.photo} alt={t(`pour.pin.${value.what}`)} />}
      </div>
      <div class="actions">
        <Button kind="main" disabled={!value.spot} onPress={() => void drop()}>{t('pour.pin.drop')}</Button>
        {form.touched && <Button kind="quiet" onPress={clear}>{t('layout.drop')}</Button>}
      </div>
    </div>
  )
}

export function pinMarks(job: JobView): { readonly id: string; readonly spot: Point; readonly label: string; readonly kind: 'pin' | 'pin_closed' }[] {
  return job.pins.map((pin, i) => ({ id: pin.id, spot: pin.spot, label: String(i + 1), kind: pin.open ? 'pin' : 'pin_closed' }))
}

/** Pins with their number on the plan, open ones first. */
export function PinList({ job, of }: { readonly job: JobView; readonly of: (pin: Pin) => boolean }) {
  const numbered = job.pins.map((pin, i) => ({ pin, number: i + 1 })).filter(({ pin }) => of(pin))
  const ordered = [...numbered.filter(({ pin }) => pin.open), ...numbered.filter(({ pin }) => !pin.open)]
  if (ordered.length === 0) return <p>{t('pour.noPins')}</p>
  return <ul class="rows">{ordered.map(({ pin, number }) => <PinRow key={pin.id} job={job} pin={pin} number={number} />)}</ul>
}

function PinRow({ job, pin, number }: { readonly job: JobView; readonly pin: Pin; readonly number: number }) {
  const what = t(`pour.pin.${pin.what}`)
  const bay = job.bays.find((one) => one.id === pin.bay)
  const close = (): void => void act(job.id, 'pin.closed', { pin: pin.id }, t('pour.did.pinClosed', { number, what }))
  return (
    <li>
      <span>
        <strong>{t('pour.pinLine', { number, what })}</strong> {[bay && t('layout.bay', { label: bay.label }), pin.note].filter(Boolean).join(' · ')}
        <br />
        <span class="soft">{whoWhen(job, pin)}{pin.closed && ` · ${t('pour.pinClosed', { who: whoWhen(job, pin.closed) })}`}</span>
      </span>
      {pin.open ? (
        <Button label={`${t('pour.closePin')}: ${t('pour.pinLine', { number, what })}`} onPress={close}>{t('pour.closePin')}</Button>
      ) : (
        <Button kind="quiet" onPress={() => pin.closed && void takeBack(job.id, pin.closed.event, t('pour.did.pinOpened', { number, what }))}>{t('pour.openPin')}</Button>
      )}
      {pin.photo && <span class="full"><Photo photo={pin.photo} alt={t('pour.pinLine', { number, what })} /></span>}
      <span class="full">
        <Button kind="quiet" label={`${t('record.takeBack')}: ${t('pour.pinLine', { number, what })}`} onPress={() => void removeKept(job.id, 'pin.dropped', (body) => body.pin === pin.id, t('pour.did.pinGone', { number, what }))}>{t('record.takeBack')}</Button>
      </span>
    </li>
  )
}
