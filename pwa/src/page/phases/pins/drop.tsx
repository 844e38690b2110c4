import type { PersonId, PhotoId, PinDropped, PinId } from '../../../shared/events'
import type { JobView } from '../../../shared/job'
import { newId } from '../../../shared/uuid'
import { Button, Choice, TextField } from '../../look'
import type { Point } from '../../plan/geometry'
import { bayAt } from '../../plan/plan'
import { t } from '../../words'
import { act, also } from '../act'
import { useForm, type Form } from '../form'
import { JobPlan } from '../job-plan'
import { Photo, PhotoButton } from '../photo'
import { pinMarks } from './list'
import { OwnerPick } from './row'

type What = PinDropped['what']
export const PIN_KINDS: readonly What[] = ['debris', 'thin_texture', 'ravelled_edge', 'crack', 'colour_patch', 'splash', 'other']

export interface PinDraft {
  readonly spot: Point | null
  readonly what: What
  readonly note: string
  readonly photo: PhotoId | null
  readonly owner: PersonId | null
}

/** A pin not dropped yet, kept through a reload. */
export function usePinDraft(job: JobView, first: What): Form<PinDraft> {
  return useForm<PinDraft>(`${job.id}.pin.${first}`, () => ({ spot: null, what: first, note: '', photo: null, owner: null }))
}

/** Drops a pin: touch the plan, say what it is; photo, note and owner if they help. */
export function DropPin({ job, first }: { readonly job: JobView; readonly first: What }) {
  const form = usePinDraft(job, first)
  if (!job.slab) return <p>{t('ready.noSlab')}</p>
  return (
    <div class="stack">
      <JobPlan job={job} marks={pinMarks(job)} mode="spot" spot={form.value.spot} onSpot={(spot) => form.put({ spot })} />
      <PinDetails job={job} form={form} />
    </div>
  )
}

/** What a touched spot is, and the key that drops the pin there. */
export function PinDetails({ job, form, onGone }: { readonly job: JobView; readonly form: Form<PinDraft>; readonly onGone?: () => void }) {
  const { value, put } = form
  const leave = (): void => {
    form.clear()
    onGone?.()
  }
  const drop = async (): Promise<void> => {
    if (!value.spot) return
    const pin = newId<PinId>()
    const body = { pin, spot: value.spot, what: value.what, bay: bayAt(job.bays, value.spot)?.id ?? null, note: value.note.trim() || null, photo: value.photo }
    if (!(await act(job.id, 'pin.dropped', body, t('pour.did.pin', { what: t(`pour.pin.${value.what}`) })))) return
    // taking the pin back takes its owner with it
    if (value.owner) await also(job.id, 'pin.assigned', { pin, person: value.owner })
    leave()
  }
  return (
    <>
      <Choice label={t('pour.pin.what')} value={value.what} options={PIN_KINDS.map((what) => ({ value: what, label: t(`pour.pin.${what}`) }))} onPick={(what) => put({ what })} />
      <Button kind="main" wide disabled={!value.spot} onPress={() => void drop()}>{t(value.spot ? 'pour.pin.drop' : 'pins.touchFirst')}</Button>
      <div class="pair">
        <TextField label={t('pour.pin.note')} value={value.note} maxLength={500} onCommit={(note) => put({ note })} />
        <OwnerPick label={t('pins.owner')} value={value.owner} onPick={(owner) => put({ owner })} />
      </div>
      <div class="row">
        <PhotoButton label={t(value.photo ? 'pour.photo.again' : 'pour.photo.take')} onKept={(photo) => put({ photo })} />
        {value.photo && <Photo photo={value.photo} alt={t(`pour.pin.${value.what}`)} />}
        {form.touched && <Button kind="quiet" onPress={leave}>{t('pins.unmark')}</Button>}
      </div>
    </>
  )
}
