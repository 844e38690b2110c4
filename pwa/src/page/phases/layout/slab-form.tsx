import type { JobView } from '../../../shared/job'
import { Choice } from '../../look'
import { LengthField } from '../../plan/length-field'
import { judgeOutline } from '../../plan/outline'
import { OutlineEditor } from '../../plan/outline-editor'
import { t } from '../../words'
import { act } from '../act'
import { useForm } from '../form'
import { QuantityField } from '../quantity-field'
import { FormEnd } from './section'
import { slabBody, slabDraft, type SlabDraft } from './state'
import { colourWord, SURFACE_COLOURS } from './take-off'

/** What lies under the slab, as thermal resistance [m²K/W]: foam at 0.029 W/mK (from memory, not verified). */
const BASES = [
  { word: 'gravel', r: 0 },
  { word: 'foam_1in', r: 0.88 },
  { word: 'foam_2in', r: 1.75 },
] as const

/** Share of the sun kept off by trees, walls and roofs over the day (EST). */
const SHADES = [
  { word: 'none', value: 0 },
  { word: 'some', value: 0.3 },
  { word: 'half', value: 0.5 },
  { word: 'most', value: 0.8 },
] as const

/** Friction of a slab on what it lies on (EST). */
const SLIDES = [
  { word: 'sheet', value: 0.5 },
  { word: 'gravel', value: 1.5 },
  { word: 'stone', value: 2 },
] as const

/** Outline, thickness and what the sun and the ground make of it. */
export function SlabForm({ job, onDone }: { readonly job: JobView; readonly onDone: () => void }) {
  const form = useForm<SlabDraft>(`${job.id}.slab`, () => slabDraft(job.slab))
  const { value, put } = form
  const leave = (): void => {
    form.clear()
    onDone()
  }
  const save = async (): Promise<void> => {
    const body = slabBody(value)
    if (body && (await act(job.id, 'slab.outlined', body, t('layout.did.slab')))) leave()
  }
  const { fault, at } = judgeOutline(value.corners)
  const broken = fault !== null
  return (
    <div class="stack">
      <OutlineEditor draft={value} onChange={put} />
      {!broken && <SlabFields value={value} put={put} />}
      <FormEnd onSave={() => void save()} onDrop={leave} disabled={broken} refusal={fault && value.corners.length >= 3 ? t(`layout.fault.${fault}`, { one: at[0] ?? '', other: at[1] ?? '' }) : null} />
    </div>
  )
}

function SlabFields({ value, put }: { readonly value: SlabDraft; readonly put: (part: Partial<SlabDraft>) => void }) {
  return (
    <>
      <QuantityField label={t('layout.slab.thickness')} quantity="thickness" value={value.thickness_m} min={0.05} max={0.6} onCommit={(thickness_m) => thickness_m && put({ thickness_m })} hint={t('layout.slab.thicknessHint')} />
      <Choice
        label={t('layout.slab.colour')}
        value={colourWord(value.solar_absorptivity)}
        options={SURFACE_COLOURS.map(({ word, solar_absorptivity }) => ({ value: word, label: t(`layout.colour.${word}`), hint: t('layout.slab.takesUp', { share: Math.round(solar_absorptivity * 100) }) }))}
        onPick={(word) => put({ solar_absorptivity: SURFACE_COLOURS.find((one) => one.word === word)?.solar_absorptivity ?? value.solar_absorptivity })}
      />
      <p class="soft">{t('layout.slab.colourNote')}</p>
      <Choice
        label={t('layout.slab.shade')}
        value={nearest(SHADES, value.shade ?? 0)}
        options={SHADES.map(({ word }) => ({ value: word, label: t(`layout.shade.${word}`) }))}
        onPick={(word) => put({ shade: SHADES.find((one) => one.word === word)?.value ?? 0 })}
      />
      <Choice
        label={t('layout.slab.base')}
        value={BASES.find(({ r }) => Math.abs(r - value.insulation_r_m2k_w) < 0.01)?.word}
        options={BASES.map(({ word }) => ({ value: word, label: t(`layout.base.${word}`) }))}
        onPick={(word) => put({ insulation_r_m2k_w: BASES.find((one) => one.word === word)?.r ?? 0 })}
      />
      <div class="pair">
        <QuantityField label={t('layout.slab.insulation')} quantity="insulation" value={value.insulation_r_m2k_w} min={0} max={6} onCommit={(r) => put({ insulation_r_m2k_w: r ?? 0 })} steps={false} />
        <QuantityField label={t('layout.slab.ground')} quantity="temp" value={value.ground_temp_c} min={-10} max={40} onCommit={(ground_temp_c) => ground_temp_c !== null && put({ ground_temp_c })} hint={t('layout.slab.groundHint')} />
      </div>
      <Choice
        label={t('layout.slab.slides')}
        value={nearest(SLIDES, value.base_friction ?? 1.5)}
        options={SLIDES.map(({ word }) => ({ value: word, label: t(`layout.slides.${word}`) }))}
        onPick={(word) => put({ base_friction: SLIDES.find((one) => one.word === word)?.value ?? 1.5 })}
      />
      <LengthField label={t('layout.slab.uncut')} value_m={value.uncut_length_m} min_m={0} max_m={200} onCommit={(uncut_length_m) => put({ uncut_length_m })} onClear={() => put({ uncut_length_m: null })} hint={t('layout.slab.uncutHint')} />
    </>
  )
}

/** The word whose number lies nearest to what is kept. */
function nearest<Word extends string>(all: readonly { readonly word: Word; readonly value: number }[], kept: number): Word | undefined {
  return [...all].sort((a, b) => Math.abs(a.value - kept) - Math.abs(b.value - kept))[0]?.word
}
