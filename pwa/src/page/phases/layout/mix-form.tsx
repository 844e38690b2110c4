import { useState } from 'preact/hooks'
import type { JobView } from '../../../shared/job'
import { Button, TextField } from '../../look'
import { KnownLine } from '../../office/lookback/known-line'
import { t } from '../../words'
import { act } from '../act'
import { useForm } from '../form'
import { QuantityField } from '../quantity-field'
import { MixInside } from './mix-inside'
import { mixBody, mixDraft, type MixDraft, type MixFault } from './mix'
import { paceWords, recipeWords } from './mix-words'
import { FormEnd } from './section'
import { textOrNull } from './state'

/** What the plant is asked for: three fields, and all that is in it behind one button. */
export function MixForm({ job, onDone }: { readonly job: JobView; readonly onDone: () => void }) {
  const form = useForm<MixDraft>(`${job.id}.mix`, () => mixDraft(job.mix))
  const [fault, setFault] = useState<MixFault | null>(null)
  const [inside, setInside] = useState(false)
  const { value, put } = form
  const leave = (): void => {
    form.clear()
    onDone()
  }
  const save = async (): Promise<void> => {
    const made = mixBody(value)
    setFault('fault' in made ? made.fault : null)
    if ('fault' in made) return setInside(inside || made.fault === 'tooMuch')
    if (await act(job.id, 'mix.chosen', made.body, t('layout.did.mix'))) leave()
  }
  const told = recipeWords(value)
  return (
    <div class="stack">
      <TextField label={t('layout.mix.name')} value={value.name} maxLength={80} hint={t('layout.mix.nameHint')} error={fault === 'nameless' ? t('layout.mix.nameless') : null} onCommit={(name) => put({ name })} />
      <div class="pair">
        <QuantityField label={t('layout.mix.strength')} quantity="strength" value={value.design_strength_mpa} min={15} max={60} onCommit={(mpa) => mpa && put({ design_strength_mpa: mpa })} />
        <TextField label={t('layout.mix.colour')} value={value.colour ?? ''} maxLength={80} onCommit={(colour) => put({ colour: textOrNull(colour) })} />
      </div>
      <p class="mix-pace" role="status">{paceWords(value)}</p>
      <KnownLine job={job.id} mix={value.name} plant={value.plant} entered={value.set_factor != null} />
      <div>
        <Button expanded={inside} onPress={() => setInside(!inside)}>{t('layout.mix.inside')}</Button>
        {!inside && told && <p class="soft">{told}</p>}
      </div>
      {inside && <MixInside value={value} put={put} />}
      <FormEnd onSave={() => void save()} onDrop={leave} refusal={fault === 'tooMuch' ? t('layout.mix.tooMuch') : null} />
    </div>
  )
}
