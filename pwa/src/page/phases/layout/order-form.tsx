import { useState } from 'preact/hooks'
import type { JobView } from '../../../shared/job'
import { Choice, NumberField, Notice, TextField } from '../../look'
import { units } from '../../shell/preferences'
import { t } from '../../words'
import { act } from '../act'
import { useForm } from '../form'
import { say } from '../quantity'
import { QuantityField } from '../quantity-field'
import { zoneOf } from '../who'
import { FormEnd } from './section'
import { orderBody, orderDraft, type OrderDraft, type OrderFault } from './state'
import { loadOptions, orderStep, takeOff, USUAL_WASTE } from './take-off'

/** How much concrete, in how many equal loads, when. */
export function OrderForm({ job, onDone }: { readonly job: JobView; readonly onDone: () => void }) {
  const zone = zoneOf(job)
  const form = useForm<OrderDraft>(`${job.id}.order`, () => orderDraft(job.order, USUAL_WASTE, zone, job.mix?.colour ?? ''))
  const [fault, setFault] = useState<OrderFault | null>(null)
  const { value, put } = form
  const suggested = job.slab ? takeOff(job.slab.corners, job.slab.thickness_m, value.waste, orderStep(units.value)).ordered_m3 : null
  const leave = (): void => {
    form.clear()
    onDone()
  }
  const save = async (): Promise<void> => {
    const read = orderBody(value, suggested, zone)
    if ('fault' in read) return setFault(read.fault)
    if (await act(job.id, 'order.placed', read.body, t('layout.did.order'))) leave()
  }
  return (
    <div class="stack">
      <VolumeFields job={job} value={value} put={put} suggested={suggested} />
      <LoadsField value={value} put={put} volume_m3={value.volume_m3 ?? suggested} />
      <TextField label={t('layout.order.pourAt')} type="datetime-local" value={value.pour} hint={t('layout.order.pourAtHint', { zone })} onCommit={(pour) => put({ pour })} />
      <QuantityField label={t('layout.order.slump')} quantity="slump" value={value.slump_mm} min={0} max={300} onCommit={(slump_mm) => put({ slump_mm })} hint={t('layout.order.slumpHint')} />
      <TextField label={t('layout.order.colour')} value={value.colour} maxLength={80} onCommit={(colour) => put({ colour })} />
      <TextField label={t('layout.order.supplier')} value={value.supplier} maxLength={120} onCommit={(supplier) => put({ supplier })} />
      <FormEnd onSave={() => void save()} onDrop={leave} refusal={fault && t(`layout.order.fault.${fault}`)} />
    </div>
  )
}

interface PartProps {
  readonly value: OrderDraft
  readonly put: (part: Partial<OrderDraft>) => void
}

function VolumeFields({ job, value, put, suggested }: PartProps & { readonly job: JobView; readonly suggested: number | null }) {
  return (
    <>
      {job.slab ? (
        <p>{t('layout.order.neat', { neat: say(job.slab.volume_m3, 'volume', units.value), order: say(suggested ?? 0, 'volume', units.value), waste: Math.round(value.waste * 100) })}</p>
      ) : (
        <Notice title={t('layout.order.noSlab')} />
      )}
      <div class="pair">
        <QuantityField label={t('layout.order.waste')} quantity="share" value={value.waste} min={0} max={0.3} onCommit={(waste) => put({ waste: waste ?? 0 })} hint={t('layout.order.wasteHint')} />
        <QuantityField label={t('layout.order.volume')} quantity="volume" value={value.volume_m3 ?? suggested} min={0.1} max={500} onCommit={(volume_m3) => put({ volume_m3 })} />
      </div>
    </>
  )
}

/** Equal loads, offered with what each means. */
function LoadsField({ value, put, volume_m3 }: PartProps & { readonly volume_m3: number | null }) {
  const options = volume_m3 ? loadOptions(volume_m3) : []
  return (
    <>
      {options.length > 0 && (
        <Choice
          label={t('layout.order.loads')}
          value={value.loads === null ? null : String(value.loads)}
          options={options.map(({ loads, each_m3, note }) => ({ value: String(loads), label: t('layout.order.loadsOf', { loads, each: say(each_m3, 'volume', units.value) }), hint: t(`layout.order.note.${note}`) }))}
          onPick={(loads) => put({ loads: Number(loads) })}
        />
      )}
      <NumberField label={t('layout.order.loadCount')} value={value.loads} min={1} max={40} step={1} decimals={0} onCommit={(loads) => put({ loads: Math.round(loads) })} />
    </>
  )
}
