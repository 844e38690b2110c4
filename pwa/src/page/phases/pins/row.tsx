import { ROLES, type PersonId } from '../../../shared/events'
import type { JobView, Pin } from '../../../shared/job'
import { Button } from '../../look'
import { me } from '../../sync/session'
import { outlook } from '../../sync/outlook'
import { t } from '../../words'
import { act, removeKept, takeBack } from '../act'
import { Photo, PhotoButton } from '../photo'
import { mayWrite, nameOf, whoWhen } from '../who'
import { ownerOf } from './owners'

export interface RowProps {
  readonly job: JobView
  readonly pin: Pin
  readonly number: number
  /** What stands with it here: how to get at it. */
  readonly hint?: string
}

/** One pin: what, where, whose, who closed it; done with one touch. */
export function PinRow({ job, pin, number, hint }: RowProps) {
  const what = t(`pour.pin.${pin.what}`)
  const line = t('pour.pinLine', { number, what })
  const bay = job.bays.find((one) => one.id === pin.bay)
  const pictures = [pin.photo, ...job.photos.filter((one) => one.pin === pin.id).map(({ photo }) => photo)].filter((photo) => photo !== null)
  return (
    <li class="pin-row">
      <span>
        <strong>{line}</strong> {[bay && t('layout.bay', { label: bay.label }), pin.note].filter(Boolean).join(' · ')}
        {hint && <span class="pin-hint">{hint}</span>}
        <br />
        <span class="soft">{whoWhen(job, pin)}{pin.closed && ` · ${t('pour.pinClosed', { who: whoWhen(job, pin.closed) })}`}</span>
      </span>
      {pin.open ? (
        <Button label={`${t('pour.closePin')}: ${line}`} onPress={() => void act(job.id, 'pin.closed', { pin: pin.id }, t('pour.did.pinClosed', { number, what }))}>{t('pour.closePin')}</Button>
      ) : (
        <Button kind="quiet" label={`${t('pour.openPin')}: ${line}`} onPress={() => pin.closed && void takeBack(job.id, pin.closed.event, t('pour.did.pinOpened', { number, what }))}>{t('pour.openPin')}</Button>
      )}
      {pictures.length > 0 && <span class="full row">{pictures.map((photo) => <Photo key={photo} photo={photo} alt={line} />)}</span>}
      <PinFoot job={job} pin={pin} number={number} line={line} what={what} />
    </li>
  )
}

function PinFoot({ job, pin, number, line, what }: RowProps & { readonly line: string; readonly what: string }) {
  return (
    <span class="full pin-foot">
      {pin.open ? <Owner job={job} pin={pin} number={number} line={line} /> : <span class="soft">{ownerOf(pin) && `${t('pins.owner')}: ${nameOf(ownerOf(pin) ?? '')}`}</span>}
      {pin.open && <PhotoButton label={t('pour.photo.take')} onKept={(photo) => void act(job.id, 'photo.taken', { photo, pin: pin.id, bay: pin.bay, caption: null }, t('pins.did.photo', { number }))} />}
      <Button kind="quiet" label={`${t('record.takeBack')}: ${line}`} onPress={() => void removeKept(job.id, 'pin.dropped', (body) => body.pin === pin.id, t('pour.did.pinGone', { number, what }))}>{t('record.takeBack')}</Button>
    </span>
  )
}

function Owner({ job, pin, number, line }: RowProps & { readonly line: string }) {
  const owner = ownerOf(pin)
  if (!mayWrite(ROLES['pin.assigned'])) return <span class="soft">{t('pins.owner')}: {owner ? nameOf(owner) : t('pins.nobody')}</span>
  const give = (person: PersonId | null): void => {
    const words = person ? t('pins.did.owner', { number, who: nameOf(person) }) : t('pins.did.free', { number })
    void act(job.id, 'pin.assigned', { pin: pin.id, person }, words)
  }
  return <OwnerPick label={t('pins.owner')} spoken={t('pins.ownerOf', { pin: line })} value={owner} onPick={give} />
}

/** Crew and foremen of the company, oneself first. */
export function OwnerPick({ label, spoken, value, onPick }: { readonly label: string; readonly spoken?: string; readonly value: PersonId | null; readonly onPick: (person: PersonId | null) => void }) {
  const mine = me.value
  const people = (outlook.value?.people ?? []).filter(({ role, id }) => role !== 'office' && id !== mine?.person)
  const all = [...(mine && mine.role !== 'office' ? [{ id: mine.person, name: mine.name }] : []), ...people]
  const known = value === null || all.some(({ id }) => id === value) ? all : [...all, { id: value, name: nameOf(value) }]
  return (
    <label class="pin-owner">
      <span>{label}</span>
      <select class="look-input" aria-label={spoken} value={value ?? ''} onChange={(event) => onPick((event.currentTarget.value || null) as PersonId | null)}>
        <option value="">{t('pins.nobody')}</option>
        {known.map(({ id, name }) => <option key={id} value={id}>{name}</option>)}
      </select>
    </label>
  )
}
