import { useState } from 'preact/hooks'
import type { JobId, JobOpened } from '../../../shared/events'
import type { JobView } from '../../../shared/job'
import { newId } from '../../../shared/uuid'
import { Button, Choice, NumberField, Screen, TextField } from '../../look'
import { go } from '../../shell/route'
import { t } from '../../words'
import { act } from '../act'
import { useForm } from '../form'
import { FormEnd } from './section'
import { jobBody, jobDraft, type JobDraft, type JobFault } from './state'

const USES: readonly JobOpened['use'][] = ['patio', 'walk', 'pool_deck', 'drive', 'other']
const phoneZone = (): string => Intl.DateTimeFormat().resolvedOptions().timeZone

/** A new job: opens it and goes to its layout. */
export function NewJobScreen() {
  return (
    <Screen title={t('layout.newJob')} back="#/jobs">
      <JobForm job={null} onDone={(id) => id && go(`#/job/${id}/layout`)} />
    </Screen>
  )
}

/** The job itself: name, place, position for the sun, clock, use. */
export function JobForm({ job, onDone }: { readonly job: JobView | null; readonly onDone: (id: JobId | null) => void }) {
  const form = useForm<JobDraft>(`${job?.id ?? 'new'}.job`, () => jobDraft(job?.opened, phoneZone()))
  const [fault, setFault] = useState<JobFault | null>(null)
  const { value, put } = form
  const drop = (): void => {
    form.clear()
    onDone(null)
  }
  const save = async (): Promise<void> => {
    const read = jobBody(value)
    if ('fault' in read) return setFault(read.fault)
    const id = job?.id ?? newId<JobId>()
    const kept = await act(id, 'job.opened', read.body, t('layout.did.job'))
    if (!kept) return
    form.clear()
    onDone(id)
  }
  return (
    <div class="stack">
      <TextField label={t('layout.job.name')} value={value.name} maxLength={80} hint={t('layout.job.nameHint')} onCommit={(name) => put({ name })} />
      <TextField label={t('layout.job.place')} value={value.place} maxLength={200} onCommit={(place) => put({ place })} />
      <TextField label={t('layout.job.customer')} value={value.customer} maxLength={120} onCommit={(customer) => put({ customer })} />
      <Choice label={t('layout.job.use')} value={value.use} options={USES.map((use) => ({ value: use, label: t(`layout.use.${use}`) }))} onPick={(use) => put({ use })} />
      <Position value={value} put={put} />
      <TextField label={t('layout.job.zone')} value={value.time_zone} hint={t('layout.job.zoneHint')} onCommit={(time_zone) => put({ time_zone: time_zone.trim() })} />
      <FormEnd onSave={() => void save()} onDrop={drop} refusal={fault && t(`layout.job.fault.${fault}`)} />
    </div>
  )
}

/** Where the slab is: for sun and sunrise. From the phone with one touch, or typed. */
function Position({ value, put }: { readonly value: JobDraft; readonly put: (part: Partial<JobDraft>) => void }) {
  const [told, setTold] = useState<string | null>(null)
  const find = (): void => {
    if (!('geolocation' in navigator)) return setTold(t('layout.job.noPosition'))
    setTold(t('layout.job.finding'))
    navigator.geolocation.getCurrentPosition(
      ({ coords }) => {
        put({ latitude_deg: Math.round(coords.latitude * 1e4) / 1e4, longitude_deg: Math.round(coords.longitude * 1e4) / 1e4 })
        setTold(null)
      },
      () => setTold(t('layout.job.noPosition')),
      { timeout: 15_000, maximumAge: 600_000 },
    )
  }
  return (
    <div class="stack">
      <div class="pair">
        <NumberField label={t('layout.job.latitude')} value={value.latitude_deg} unit="°" min={-90} max={90} decimals={4} onCommit={(latitude_deg) => put({ latitude_deg })} hint={t('layout.job.latitudeHint')} />
        <NumberField label={t('layout.job.longitude')} value={value.longitude_deg} unit="°" min={-180} max={180} decimals={4} onCommit={(longitude_deg) => put({ longitude_deg })} hint={t('layout.job.longitudeHint')} />
      </div>
      <Button onPress={find}>{t('layout.job.here')}</Button>
      {told && <p role="status">{told}</p>}
    </div>
  )
}
