import { useState } from 'preact/hooks'
import type { CheckKind } from '../../../../shared/job'
import { Button } from '../../../look'
import { units } from '../../../shell/preferences'
import { t } from '../../../words'
import { sayShort } from '../../quantity'
import { QuantityField } from '../../quantity-field'
import { FOOTPRINTS_MM, THUMBS_MM } from '../state'
import { MatPicture, PrintPicture, ThumbPicture } from './pictures'

/** From too soft to too firm, as the prints above. */
const MATS = ['mat_sticks', 'mat_clean', 'mat_refused'] as const

export type OnCheck = (kind: CheckKind, depth_mm: number | null) => void

/** Four plain questions; each answer is one touch. */
export function CheckKeys({ onCheck }: { readonly onCheck: OnCheck }) {
  return (
    <div class="stack">
      <Question id="print" title={t('texture.ask.print')} hint={t('texture.footprintHint')}>
        {FOOTPRINTS_MM.map((mm) => <Key key={mm} label={mm === 0 ? t('texture.noMark') : depthWords(mm)} spoken={`${t('texture.kind.footprint')}: ${mm === 0 ? t('texture.noMark') : depthWords(mm)}`} onPress={() => onCheck('footprint', mm)}><PrintPicture depth_mm={mm} /></Key>)}
      </Question>
      <Question id="thumb" title={t('texture.ask.thumb')}>
        {THUMBS_MM.map((mm) => <Key key={mm} label={t(`texture.thumb.${thumbWord(mm)}`)} spoken={`${t('texture.kind.thumb')}: ${t(`texture.thumb.${thumbWord(mm)}`)}`} onPress={() => onCheck('thumb', mm)}><ThumbPicture depth_mm={mm} /></Key>)}
      </Question>
      <Question id="mat" title={t('texture.ask.mat')}>
        {MATS.map((kind) => <Key key={kind} label={t(`texture.kind.${kind}`)} onPress={() => onCheck(kind, null)}><MatPicture kind={kind} /></Key>)}
      </Question>
      <OtherDepth onCheck={onCheck} />
    </div>
  )
}

function Question({ id, title, hint, children }: { readonly id: string; readonly title: string; readonly hint?: string; readonly children: preact.ComponentChildren }) {
  return (
    <section class="check-question" aria-labelledby={`ask-${id}`}>
      <h3 id={`ask-${id}`}>{title}</h3>
      <div class="check-keys">{children}</div>
      {hint && <p class="soft">{hint}</p>}
    </section>
  )
}

function Key({ label, spoken, onPress, children }: { readonly label: string; readonly spoken?: string; readonly onPress: () => void; readonly children: preact.ComponentChildren }) {
  return (
    <button type="button" class="look-button check-key" aria-label={spoken} onClick={onPress}>
      {children}
      <span>{label}</span>
    </button>
  )
}

function OtherDepth({ onCheck }: { readonly onCheck: OnCheck }) {
  const [depth, setDepth] = useState<number | null>(null)
  const [missing, setMissing] = useState(false)
  const save = (): void => {
    setMissing(depth === null)
    if (depth !== null) onCheck('footprint', depth)
  }
  return (
    <details class="check-other">
      <summary>{t('texture.otherDepth')}</summary>
      <div class="pair">
        <QuantityField label={t('texture.footprint')} quantity="footprint" value={depth} min={0} max={60} onCommit={setDepth} refusal={missing ? t('texture.depthFirst') : null} />
        <Button onPress={save}>{t('texture.saveFootprint')}</Button>
      </div>
    </details>
  )
}

export const depthWords = (mm: number): string => sayShort(mm / 1000, units.value)

const thumbWord = (mm: number): 'deep' | 'light' | 'none' => (mm === 0 ? 'none' : mm < 4 ? 'light' : 'deep')
