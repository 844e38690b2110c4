import type { ComponentChildren } from 'preact'
import { useState } from 'preact/hooks'
import type { JobView } from '../../../shared/job'
import { Button, TextField } from '../../look'
import type { Point } from '../../plan/geometry'
import type { MarkKind } from '../../plan/plan'
import { t } from '../../words'
import { useForm } from '../form'
import { JobPlan } from '../job-plan'
import { nextLabel } from './state'

export interface PointBase {
  /** The point being changed; null for a new one. */
  readonly id: string | null
  readonly label: string
  readonly spot: Point | null
}

export interface PointFormProps<D extends PointBase> {
  readonly job: JobView
  readonly draftKey: string
  readonly kind: MarkKind
  /** A point may be drawn as another kind of mark than the rest. */
  readonly points: readonly { readonly id: string; readonly label: string; readonly spot: Point; readonly kind?: MarkKind }[]
  readonly start: (label: string) => D
  /** The draft for changing a point. */
  readonly edit: (id: string) => D | null
  readonly fields: (value: D, put: (part: Partial<D>) => void) => ComponentChildren
  readonly complete: (value: D) => boolean
  readonly save: (value: D) => Promise<unknown>
  readonly row: (id: string) => ComponentChildren
  readonly remove: (id: string, label: string) => void
  readonly fall?: number | null
}

/** Points on the plan with readings: touch the plan, enter the reading, save; the next point is ready at once. */
export function Points<D extends PointBase>(props: PointFormProps<D>) {
  const { job, points, kind, start, edit, fields, complete, save, row, remove, fall } = props
  const form = useForm<D>(`${job.id}.${props.draftKey}`, () => start(nextLabel(points)))
  const { value, put, clear } = form
  const [said, setSaid] = useState<'spot' | 'label' | 'reading' | null>(null)
  const missing = !value.spot ? 'spot' : !value.label.trim() ? 'label' : complete(value) ? null : 'reading'
  const marks = points.filter((point) => point.id !== value.id).map(({ id, label, spot, kind: own }) => ({ id, label, spot, kind: own ?? kind }))
  const keep = async (): Promise<void> => {
    setSaid(missing)
    if (missing === null && (await save(value))) clear()
  }
  return (
    <>
      <JobPlan job={job} states={false} marks={marks} mode="spot" spot={value.spot} onSpot={(spot) => put({ spot } as Partial<D>)} {...(fall == null ? {} : { fall })} />
      <div class="stack">
        {!value.spot && <p>{t('ready.touchFirst')}</p>}
        <div class="pair">
          <TextField label={t('ready.point')} value={value.label} maxLength={24} onCommit={(label) => put({ label } as Partial<D>)} />
          {fields(value, put)}
        </div>
        {said && <p class="refusal" role="alert">{t(`ready.missing.${said}`)}</p>}
        <div class="actions">
          <Button kind="main" onPress={() => void keep()}>{t('ready.savePoint', { label: value.label })}</Button>
          {form.touched && <Button kind="quiet" onPress={clear}>{t('layout.drop')}</Button>}
        </div>
      </div>
      <ul class="rows">
        {points.map((point) => (
          <li key={point.id}>
            <span class="full"><strong>{point.label}</strong> {row(point.id)}</span>
            <span class="full row">
              <Button kind="quiet" label={`${t('layout.edit')}: ${point.label}`} onPress={() => put((edit(point.id) ?? {}) as Partial<D>)}>{t('layout.edit')}</Button>
              <Button kind="quiet" label={`${t('record.takeBack')}: ${point.label}`} onPress={() => remove(point.id, point.label)}>{t('record.takeBack')}</Button>
            </span>
          </li>
        ))}
      </ul>
    </>
  )
}

/** What is measured, under its own heading, after the ticks. */
export function Measure({ title, children }: { readonly title: string; readonly children: ComponentChildren }) {
  return (
    <section class="block" aria-labelledby="measure">
      <h2 id="measure">{title}</h2>
      {children}
    </section>
  )
}
