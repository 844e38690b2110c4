import { useState } from 'preact/hooks'
import type { EventId, LoadId } from '../../../shared/events'
import type { JobView } from '../../../shared/job'
import { newId } from '../../../shared/uuid'
import { Button, Choice, Notice, NumberField } from '../../look'
import { events, retract } from '../../log/journal'
import { Plan } from '../../plan/plan'
import { units } from '../../shell/preferences'
import { t } from '../../words'
import { also, attempt } from '../act'
import { useForm } from '../form'
import { say } from '../quantity'
import { bayChange, draftsFor, knownLoads, type BayChange, type BayPlan } from './state'

/** Cuts the outline into bays: how many, by area or by load, from which end. */
export function BaysForm({ job, onDone }: { readonly job: JobView; readonly onDone: () => void }) {
  const loadCount = job.order?.loads ?? job.loads.length
  const form = useForm<BayPlan>(`${job.id}.bays`, () => ({ bays: job.bays.length || loadCount || 2, by: 'area', reversed: false, lengthwise: false }))
  const { value, put } = form
  if (!job.slab) return <Notice title={t('layout.bays.noSlab')} />
  const loads = Array.from({ length: loadCount }, (_, i) => ({ volume_m3: job.loads[i]?.volume_m3 ?? (job.order ? job.order.volume_m3 / job.order.loads : 1) }))
  const drafts = draftsFor(job.slab.corners, value, loads)
  const save = async (): Promise<void> => {
    const known = knownLoads(job).map((load) => load.id)
    const loadIds = Array.from({ length: loadCount }, (_, i) => known[i] ?? newId<LoadId>())
    if (!(await applyCut(job, bayChange(drafts, job.bays, loadIds, newId)))) return
    form.clear()
    onDone()
  }
  return (
    <div class="stack">
      <NumberField label={t('layout.bays.count')} value={value.bays} min={1} max={26} step={1} decimals={0} onCommit={(bays) => put({ bays: Math.round(bays) })} />
      <Choice label={t('layout.bays.by')} value={value.by} options={[{ value: 'area', label: t('layout.bays.byArea') }, { value: 'load', label: t('layout.bays.byLoad') }]} onPick={(by) => put({ by })} />
      <Choice label={t('layout.bays.cuts')} value={value.lengthwise ? 'along' : 'across'} options={[{ value: 'across', label: t('layout.bays.across') }, { value: 'along', label: t('layout.bays.along') }]} onPick={(way) => put({ lengthwise: way === 'along' })} />
      <Button onPress={() => put({ reversed: !value.reversed })}>{t('layout.bays.otherEnd')}</Button>
      <Plan outline={job.slab.corners} abutting={job.slab.abutting} bays={drafts.map((draft) => ({ id: draft.label, label: draft.label, corners: draft.corners }))} />
      <p>{drafts.map((draft) => `${draft.label} ${say(draft.area_m2, 'area', units.value)}`).join(' · ')}</p>
      {job.bays.some((bay) => Object.keys(bay.steps).length > 0) && <Notice tone="warn" title={t('layout.bays.worked')} />}
      <div class="actions">
        <Button kind="main" onPress={() => void save()}>{t('layout.bays.apply', { count: drafts.length })}</Button>
        <Button kind="quiet" onPress={() => { form.clear(); onDone() }}>{t('layout.drop')}</Button>
      </div>
    </div>
  )
}

/** Everything one cut wrote, so that it can be taken back as one. */
const lastCut = new Map<string, readonly EventId[]>()

async function applyCut(job: JobView, change: BayChange): Promise<boolean> {
  const written: EventId[] = []
  for (const body of change.drawn) {
    const event = await also(job.id, 'bay.drawn', body)
    if (!event) return false
    written.push(event)
  }
  const done = await attempt(async () => {
    const log = change.dropped.length ? await events(job.id) : []
    for (const event of log) {
      if (event.kind === 'bay.drawn' && change.dropped.some((bay) => bay === (event.body as { readonly bay: string }).bay)) written.push(await retract(job.id, event.id))
    }
  })
  lastCut.set(job.id, written)
  return done
}

/** Takes the last cut of this job back as a whole. */
export function UndoCut({ job }: { readonly job: JobView }) {
  const [, redraw] = useState(0)
  const written = lastCut.get(job.id)
  if (!written?.length) return null
  const undo = async (): Promise<void> => {
    const done = await attempt(async () => {
      for (const event of [...written].reverse()) await retract(job.id, event)
    })
    if (done) lastCut.delete(job.id)
    redraw((n) => n + 1)
  }
  return <Button onPress={() => void undo()}>{t('layout.bays.undo')}</Button>
}
