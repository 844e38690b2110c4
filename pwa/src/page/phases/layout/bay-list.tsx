import type { Bay, JobView } from '../../../shared/job'
import { ROLES, type LoadId } from '../../../shared/events'
import { newId } from '../../../shared/uuid'
import { Field, TextField } from '../../look'
import { units } from '../../shell/preferences'
import { t } from '../../words'
import { act } from '../act'
import { say } from '../quantity'
import { mayWrite } from '../who'
import { loadChoices } from './state'

/** Bays in pour order: name and load of each, changed in place. */
export function BayList({ job }: { readonly job: JobView }) {
  const may = mayWrite(ROLES['slab.outlined'])
  return <ul class="rows">{job.bays.map((bay) => <BayRow key={bay.id} job={job} bay={bay} may={may} />)}</ul>
}

function BayRow({ job, bay, may }: { readonly job: JobView; readonly bay: Bay; readonly may: boolean }) {
  const loads = loadChoices(job)
  const load = loads.find((one) => one.id === bay.load)
  const change = (part: { readonly label?: string; readonly load?: LoadId | null }): void => {
    const { label, corners, order } = bay
    void act(job.id, 'bay.drawn', { bay: bay.id, label, corners, load: bay.load, order, ...part }, t('layout.did.bay', { label: part.label ?? label }))
  }
  const fillBy = (number: string): void => {
    const chosen = loads.find((one) => String(one.number) === number)
    change({ load: chosen ? (chosen.id ?? newId<LoadId>()) : null })
  }
  if (!may) {
    return (
      <li>
        <strong>{t('layout.bay', { label: bay.label })}</strong>
        <span>{[say(bay.area_m2, 'area', units.value), load && t('layout.load', { number: load.number })].filter(Boolean).join(' · ')}</span>
      </li>
    )
  }
  return (
    <li>
      <div class="pair full">
        <TextField label={t('layout.bays.name')} value={bay.label} maxLength={24} hint={say(bay.area_m2, 'area', units.value)} onCommit={(label) => label.trim() && change({ label: label.trim() })} />
        <Field label={t('layout.bays.filledBy')}>
          <select class="look-input" value={load ? String(load.number) : ''} onChange={(event) => fillBy(event.currentTarget.value)}>
            <option value="">{t('layout.bays.noLoad')}</option>
            {loads.map((one) => <option key={one.number} value={String(one.number)}>{t('layout.load', { number: one.number })}</option>)}
          </select>
        </Field>
      </div>
    </li>
  )
}
