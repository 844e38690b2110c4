import type { PointId } from '../../../shared/events'
import type { FormPoint, JobView } from '../../../shared/job'
import { newId } from '../../../shared/uuid'
import { Choice, Empty, Notice } from '../../look'
import { LengthField } from '../../plan/length-field'
import { units } from '../../shell/preferences'
import { t } from '../../words'
import { act, removeKept } from '../act'
import { Checklist } from '../checklist'
import { Frame } from '../frame'
import { sayShort } from '../quantity'
import { QuantityField } from '../quantity-field'
import { whoWhen } from '../who'
import { Measure, Points, type PointBase } from './points'
import { readForms } from './state'

interface FormDraft extends PointBase {
  readonly height_m: number | null
  readonly depth_m: number | null
  readonly firm: boolean | null
}

const draftOf = ({ id, label, spot, height_m, depth_m, firm }: FormPoint): FormDraft => ({ id, label, spot, height_m, depth_m, firm })

/** Forms: the ticks first, for wet gloves; then points with height, depth and a kick. */
export function FormsList({ job }: { readonly job: JobView }) {
  const save = (value: FormDraft): Promise<unknown> => {
    const { id, label, spot, height_m, depth_m, firm } = value
    const point = (id ?? newId()) as PointId
    return spot ? act(job.id, 'form.measured', { point, label: label.trim(), spot, height_m, depth_m, firm }, t('ready.did.form', { label })) : Promise.resolve(null)
  }
  const find = (id: string): FormPoint | undefined => job.forms.find((point) => point.id === id)
  return (
    <Frame job={job} phase="ready" list title={t('ready.list.forms')}>
      <Checklist job={job} list="forms" />
      <FormFindings job={job} />
      {job.slab ? (
        <Measure title={t('ready.measure')}>
          <Points<FormDraft>
            job={job}
            draftKey="form"
            kind="form"
            points={job.forms}
            start={(label) => ({ id: null, label, spot: null, height_m: null, depth_m: null, firm: null })}
            edit={(id) => { const point = find(id); return point ? draftOf(point) : null }}
            fields={(value, put) => <FormFields value={value} put={put} />}
            complete={(value) => value.height_m !== null || value.depth_m !== null || value.firm !== null}
            save={save}
            row={(id) => { const point = find(id); return point && <FormRow job={job} point={point} /> }}
            remove={(id, label) => void removeKept(job.id, 'form.measured', (body) => body.point === id, t('ready.did.pointGone', { label }))}
          />
        </Measure>
      ) : (
        <Empty title={t('ready.noSlab')} />
      )}
    </Frame>
  )
}

function FormFields({ value, put }: { readonly value: FormDraft; readonly put: (part: Partial<FormDraft>) => void }) {
  return (
    <>
      <LengthField label={t('ready.form.height')} value_m={value.height_m} min_m={-10} max_m={10} hint={t('ready.form.heightHint')} onCommit={(height_m) => put({ height_m })} onClear={() => put({ height_m: null })} />
      <QuantityField label={t('ready.form.depth')} quantity="depth" value={value.depth_m} min={0} max={2} onCommit={(depth_m) => put({ depth_m })} />
      <Choice label={t('ready.form.firm')} value={value.firm === null ? null : value.firm ? 'yes' : 'no'} options={[{ value: 'yes', label: t('ready.form.firmYes') }, { value: 'no', label: t('ready.form.firmNo') }]} onPick={(firm) => put({ firm: firm === 'yes' })} />
    </>
  )
}

function FormRow({ job, point }: { readonly job: JobView; readonly point: FormPoint }) {
  const parts = [
    point.height_m === null ? null : t('ready.form.heightOf', { height: sayShort(point.height_m, units.value) }),
    point.depth_m === null ? null : t('ready.form.depthOf', { depth: sayShort(point.depth_m, units.value) }),
    point.firm === null ? null : t(point.firm ? 'ready.form.firmYes' : 'ready.form.firmNo'),
  ]
  return <>{parts.filter(Boolean).join(', ')} <span class="soft">{whoWhen(job, point)}</span></>
}

/** What the points together say: how far the tops differ, where it gets thin, what moves. */
function FormFindings({ job }: { readonly job: JobView }) {
  const found = readForms(job.forms, job.slab?.thickness_m ?? null)
  return (
    <div class="stack" role="status">
      {found.spread_m !== null && <p>{t('ready.form.spread', { high: found.highest ?? '', low: found.lowest ?? '', spread: sayShort(found.spread_m, units.value) })}</p>}
      {found.thin.map((one) => <Notice key={one.label} tone="warn" title={t('ready.form.thin', { label: one.label, depth: sayShort(one.depth_m, units.value), slab: sayShort(job.slab?.thickness_m ?? 0, units.value) })} />)}
      {found.loose.length > 0 && <Notice tone="warn" title={t('ready.form.loose', { labels: found.loose.join(', ') })} />}
    </div>
  )
}
