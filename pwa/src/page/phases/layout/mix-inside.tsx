import { Choice, NumberField, TextField } from '../../look'
import { t } from '../../words'
import { QuantityField } from '../quantity-field'
import { Admixtures } from './admixtures'
import { AGGREGATES, ASHES, CEMENTS, type MixDraft } from './mix'
import { textOrNull } from './state'

interface InsideProps {
  readonly value: MixDraft
  readonly put: (part: Partial<MixDraft>) => void
}

/** What is in the mix, what the plant allows, and how it has set before. */
export function MixInside({ value, put }: InsideProps) {
  return (
    <div class="stack mix-inside">
      <TextField label={t('layout.mix.plant')} value={value.plant ?? ''} maxLength={80} onCommit={(plant) => put({ plant: textOrNull(plant) })} />
      <Binder value={value} put={put} />
      <Admixtures rows={value.admixtures ?? []} onChange={(admixtures) => put({ admixtures })} />
      <Choice label={t('layout.mix.aggregate')} value={value.aggregate} options={AGGREGATES.map((one) => ({ value: one, label: t(`layout.aggregate.${one}`) }))} onPick={(aggregate) => put({ aggregate })} />
      <div class="pair">
        <QuantityField label={t('layout.mix.slumpAllowance')} quantity="slump" value={value.slump_allowance_mm} min={0} max={150} hint={t('layout.mix.slumpAllowanceHint')} onCommit={(slump_allowance_mm) => put({ slump_allowance_mm })} />
        <NumberField label={t('layout.mix.drumLimit')} value={value.drum_limit_min} unit="min" min={20} max={240} step={5} decimals={0} hint={t('layout.mix.drumLimitHint')} onCommit={(drum_limit_min) => put({ drum_limit_min })} onClear={() => put({ drum_limit_min: null })} />
        <NumberField label={t('layout.mix.setFactor')} value={value.set_factor} min={0.4} max={2.5} step={0.05} hint={t('layout.mix.setFactorHint')} onCommit={(set_factor) => put({ set_factor })} onClear={() => put({ set_factor: null })} />
      </div>
      <TextField label={t('layout.mix.note')} value={value.note ?? ''} maxLength={500} lines={2} onCommit={(note) => put({ note: textOrNull(note) })} />
    </div>
  )
}

/** Cement and what stands in for it, as shares of the whole. */
function Binder({ value, put }: InsideProps) {
  const ash = value.fly_ash_fraction ?? 0
  return (
    <>
      <div class="pair">
        <QuantityField label={t('layout.mix.cement')} quantity="cement" value={value.cement_kg_m3} min={200} max={600} onCommit={(kg) => kg && put({ cement_kg_m3: kg })} />
        <NumberField label={t('layout.mix.water')} value={value.w_cm} min={0.3} max={0.7} step={0.01} onCommit={(w_cm) => put({ w_cm })} />
      </div>
      <Choice label={t('layout.mix.cementType')} value={value.cement_type} options={CEMENTS.map((one) => ({ value: one, label: t(`layout.cement.${one}`) }))} onPick={(cement_type) => put({ cement_type })} />
      <div class="pair">
        <QuantityField label={t('layout.mix.ash')} quantity="share" value={value.fly_ash_fraction} min={0} max={0.6} onCommit={(fly_ash_fraction) => put({ fly_ash_fraction })} />
        <QuantityField label={t('layout.mix.slag')} quantity="share" value={value.slag_fraction} min={0} max={0.7} onCommit={(slag_fraction) => put({ slag_fraction })} />
        <QuantityField label={t('layout.mix.fume')} quantity="share" value={value.silica_fume_fraction} min={0} max={0.15} onCommit={(silica_fume_fraction) => put({ silica_fume_fraction })} />
      </div>
      {ash > 0 && <Choice label={t('layout.mix.ashClass')} value={value.fly_ash_class ?? 'F'} options={ASHES.map((one) => ({ value: one, label: t(`layout.ash.${one}`) }))} onPick={(fly_ash_class) => put({ fly_ash_class })} />}
    </>
  )
}
