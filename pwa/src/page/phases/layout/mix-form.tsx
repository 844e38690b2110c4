import { useState } from 'preact/hooks'
import type { MixChosen } from '../../../shared/events'
import type { JobView } from '../../../shared/job'
import { Choice, NumberField, TextField } from '../../look'
import { t } from '../../words'
import { act } from '../act'
import { useForm } from '../form'
import { QuantityField } from '../quantity-field'
import { FormEnd } from './section'
import { mixDraft, textOrNull } from './state'

const AGGREGATES: readonly MixChosen['aggregate'][] = ['soft-rounded', 'rounded', 'crushed-soft', 'crushed-hard']

/** What the plant is asked for. */
export function MixForm({ job, onDone }: { readonly job: JobView; readonly onDone: () => void }) {
  const form = useForm<MixChosen>(`${job.id}.mix`, () => mixDraft(job.mix))
  const [nameless, setNameless] = useState(false)
  const { value, put } = form
  const leave = (): void => {
    form.clear()
    onDone()
  }
  const save = async (): Promise<void> => {
    if (value.name.trim() === '') return setNameless(true)
    if (await act(job.id, 'mix.chosen', { ...mixDraft(value), name: value.name.trim() }, t('layout.did.mix'))) leave()
  }
  return (
    <div class="stack">
      <TextField label={t('layout.mix.name')} value={value.name} maxLength={80} hint={t('layout.mix.nameHint')} error={nameless ? t('layout.mix.nameless') : null} onCommit={(name) => put({ name })} />
      <div class="pair">
        <QuantityField label={t('layout.mix.cement')} quantity="cement" value={value.cement_kg_m3} min={200} max={600} onCommit={(kg) => kg && put({ cement_kg_m3: kg })} />
        <NumberField label={t('layout.mix.water')} value={value.w_cm} min={0.3} max={0.7} step={0.01} onCommit={(w_cm) => put({ w_cm })} />
        <QuantityField label={t('layout.mix.strength')} quantity="strength" value={value.design_strength_mpa} min={15} max={60} onCommit={(mpa) => mpa && put({ design_strength_mpa: mpa })} />
        <NumberField label={t('layout.mix.setFactor')} value={value.set_factor ?? null} min={0.4} max={2.5} step={0.05} hint={t('layout.mix.setFactorHint')} onCommit={(set_factor) => put({ set_factor })} onClear={() => put({ set_factor: null })} />
      </div>
      <Choice label={t('layout.mix.aggregate')} value={value.aggregate} options={AGGREGATES.map((one) => ({ value: one, label: t(`layout.aggregate.${one}`) }))} onPick={(aggregate) => put({ aggregate })} />
      <TextField label={t('layout.mix.colour')} value={value.colour ?? ''} maxLength={80} onCommit={(colour) => put({ colour: textOrNull(colour) })} />
      <TextField label={t('layout.mix.note')} value={value.note ?? ''} maxLength={500} lines={2} onCommit={(note) => put({ note: textOrNull(note) })} />
      <FormEnd onSave={() => void save()} onDrop={leave} />
    </div>
  )
}
