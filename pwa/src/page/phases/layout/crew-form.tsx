import type { CrewAssigned, PersonId } from '../../../shared/events'
import type { JobView } from '../../../shared/job'
import { Choice, Field, NumberField, TextField } from '../../look'
import { LengthField } from '../../plan/length-field'
import { sharedLength } from '../../plan/bays'
import { outlook } from '../../sync/outlook'
import { t } from '../../words'
import { act } from '../act'
import { useForm } from '../form'
import { QuantityField } from '../quantity-field'
import { FormEnd } from './section'
import { crewDraft, textOrNull } from './state'

/** People, mats and saw: what the pace along the slab is worked out from. */
export function CrewForm({ job, onDone }: { readonly job: JobView; readonly onDone: () => void }) {
  const joints_m = job.slab && job.bays.length > 1 ? sharedLength(job.bays.map((bay) => bay.corners), job.slab.corners) : null
  const form = useForm<CrewAssigned>(`${job.id}.crew`, () => crewDraft(job.crew, joints_m))
  const { value, put } = form
  const leave = (): void => {
    form.clear()
    onDone()
  }
  const save = async (): Promise<void> => {
    if (await act(job.id, 'crew.assigned', crewDraft(value, null), t('layout.did.crew'))) leave()
  }
  return (
    <div class="stack">
      <div class="pair">
        <NumberField label={t('layout.crew.people')} value={value.people} min={1} max={20} step={1} decimals={0} onCommit={(people) => put({ people: Math.round(people) })} />
        <NumberField label={t('layout.crew.mats')} value={value.mats ?? null} min={0} max={60} step={1} decimals={0} onCommit={(mats) => put({ mats: Math.round(mats) })} />
        <QuantityField label={t('layout.crew.matArea')} quantity="mat" value={value.mat_area_m2} min={0.02} max={5} onCommit={(mat_area_m2) => put({ mat_area_m2 })} />
        <NumberField label={t('layout.crew.layMinutes')} value={value.lay_minutes ?? null} unit="min" min={0.1} max={60} step={0.5} decimals={1} hint={t('layout.crew.layHint')} onCommit={(lay_minutes) => put({ lay_minutes })} />
      </div>
      <LeadField value={value} put={put} />
      <Choice label={t('layout.crew.saw')} value={value.saw_kind ?? null} options={[{ value: 'conventional', label: t('layout.saw.conventional') }, { value: 'early-entry', label: t('layout.saw.early-entry') }]} onPick={(saw_kind) => put({ saw_kind })} />
      <div class="pair">
        <LengthField label={t('layout.crew.sawLength')} value_m={value.saw_length_m} min_m={0} max_m={5000} onCommit={(saw_length_m) => put({ saw_length_m })} onClear={() => put({ saw_length_m: null })} hint={t('layout.crew.sawLengthHint')} />
        <QuantityField label={t('layout.crew.sawRate')} quantity="rate" value={value.saw_rate_m_per_min} min={0.02} max={30} onCommit={(saw_rate_m_per_min) => put({ saw_rate_m_per_min })} />
      </div>
      <Names value={value} put={put} />
      <FormEnd onSave={() => void save()} onDrop={leave} />
    </div>
  )
}

/** Who gets the reminders first. */
function LeadField({ value, put }: { readonly value: CrewAssigned; readonly put: (part: Partial<CrewAssigned>) => void }) {
  const people = outlook.value?.people ?? []
  if (people.length === 0) return null
  return (
    <Field label={t('layout.crew.lead')} hint={t('layout.crew.leadHint')}>
      <select class="look-input" value={value.lead ?? ''} onChange={(event) => put({ lead: (event.currentTarget.value || null) as PersonId | null })}>
        <option value="">{t('layout.crew.noLead')}</option>
        {people.map((person) => <option key={person.id} value={person.id}>{person.name}</option>)}
      </select>
    </Field>
  )
}

/** What crew, saw and sprayer are called: by these two jobs can be seen to want the same one. */
function Names({ value, put }: { readonly value: CrewAssigned; readonly put: (part: Partial<CrewAssigned>) => void }) {
  return (
    <div class="pair">
      <TextField label={t('layout.crew.name')} value={value.crew_name ?? ''} maxLength={40} hint={t('layout.crew.nameHint')} onCommit={(name) => put({ crew_name: textOrNull(name) })} />
      <TextField label={t('layout.crew.sawName')} value={value.saw_name ?? ''} maxLength={40} onCommit={(name) => put({ saw_name: textOrNull(name) })} />
      <TextField label={t('layout.crew.sprayerName')} value={value.sprayer_name ?? ''} maxLength={40} onCommit={(name) => put({ sprayer_name: textOrNull(name) })} />
    </div>
  )
}
