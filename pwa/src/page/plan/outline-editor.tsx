import { useState } from 'preact/hooks'
import { Button, Choice, Notice, TextField } from '../look'
import { units } from '../shell/preferences'
import { t } from '../words'
import { distance, type Point, type Ring } from './geometry'
import { LengthField } from './length-field'
import { OutlineHandles } from './outline-handles'
import {
  abuttingAfterAdd, abuttingAfterRemove, addCorner, cornersOf, judgeOutline, legsOf, LONGEST_SIDE_M, moveCorner, rectangle, removeCorner, stretchSide,
  type Abutting,
} from './outline'

export interface OutlineDraft {
  readonly corners: readonly Point[]
  readonly abutting: readonly Abutting[]
}

export interface OutlineEditorProps {
  readonly draft: OutlineDraft
  readonly onChange: (draft: OutlineDraft) => void
}

const MOST_STEPS_BACK = 50

/** Draws a slab: from a rectangle, by side lengths and turns, by points, or by dragging corners. Each change can be undone. */
export function OutlineEditor({ draft, onChange }: OutlineEditorProps) {
  const [past, setPast] = useState<readonly OutlineDraft[]>([])
  const remember = (): void => setPast([...past.slice(1 - MOST_STEPS_BACK), draft])
  const change = (next: OutlineDraft): void => {
    remember()
    onChange(next)
  }
  const undo = (): void => {
    const before = past[past.length - 1]
    setPast(past.slice(0, -1))
    if (before) onChange(before)
  }
  return (
    <div class="stack">
      {draft.corners.length < 3 ? <RectangleStart onMake={(corners) => change({ corners, abutting: [] })} /> : <Corners draft={draft} onChange={change} onHold={remember} onDrag={onChange} />}
      {past.length > 0 && <Button onPress={undo}>{t('layout.outline.undo')}</Button>}
    </div>
  )
}

interface CornersProps extends OutlineEditorProps {
  /** A corner is taken hold of: what stands now is one step back. */
  readonly onHold: () => void
  /** It moves on: no step of its own. */
  readonly onDrag: (draft: OutlineDraft) => void
}

function Corners({ draft, onChange, onHold, onDrag }: CornersProps) {
  const [picked, setPicked] = useState(0)
  const [way, setWay] = useState<'sides' | 'points'>('sides')
  const { corners, abutting } = draft
  const index = Math.min(picked, corners.length - 1)
  const move = (how: (draft: OutlineDraft) => void) => (i: number, to: Point): void => how({ corners: moveCorner(corners, i, to), abutting })
  return (
    <>
      <OutlineHandles corners={corners} abutting={abutting} picked={index} onPick={setPicked} onHold={onHold} onDrag={move(onDrag)} onMove={move(onChange)} />
      <OutlineFaults corners={corners} />
      <Choice
        label={t('layout.outline.way')}
        options={[{ value: 'sides', label: t('layout.outline.bySides') }, { value: 'points', label: t('layout.outline.byPoints') }]}
        value={way}
        onPick={setWay}
      />
      <CornerPicker count={corners.length} picked={index} onPick={setPicked} />
      {way === 'sides' ? <SideFields draft={draft} index={index} onChange={onChange} /> : <PointFields draft={draft} index={index} onChange={onChange} />}
      <AgainstField draft={draft} index={index} onChange={onChange} />
      <div class="row">
        <Button onPress={() => { onChange({ corners: addCorner(corners, index), abutting: abuttingAfterAdd(abutting, index) }); setPicked(index + 1) }}>
          {t('layout.outline.add', { corner: index + 1 })}
        </Button>
        <Button kind="danger" disabled={corners.length <= 3} onPress={() => onChange({ corners: removeCorner(corners, index), abutting: abuttingAfterRemove(abutting, index, corners.length) })}>
          {t('layout.outline.remove', { corner: index + 1 })}
        </Button>
        <Button kind="quiet" onPress={() => onChange({ corners: [], abutting: [] })}>{t('layout.outline.restart')}</Button>
      </div>
    </>
  )
}

/** What is wrong with the outline, in words, or nothing. */
export function OutlineFaults({ corners }: { readonly corners: Ring }) {
  const { fault, at } = judgeOutline(corners)
  if (!fault) return null
  return <Notice tone="stop" title={t(`layout.fault.${fault}`, { one: at[0] ?? '', other: at[1] ?? '' })} />
}

function RectangleStart({ onMake }: { readonly onMake: (corners: Point[]) => void }) {
  const [length_m, setLength] = useState<number | null>(null)
  const [width_m, setWidth] = useState<number | null>(null)
  const [missing, setMissing] = useState(false)
  // What is missing is said until the next press: a line that went away as the field is left would move the button from under the finger.
  const make = (): void => (length_m && width_m ? onMake(rectangle(length_m, width_m)) : setMissing(true))
  return (
    <div class="stack">
      <p>{t('layout.outline.start')}</p>
      <div class="pair">
        <LengthField label={t('layout.outline.length')} value_m={length_m} onCommit={setLength} min_m={0.3} max_m={LONGEST_SIDE_M} hint={t(units.value === 'us' ? 'layout.length.hint_us' : 'layout.length.hint_metric')} />
        <LengthField label={t('layout.outline.width')} value_m={width_m} onCommit={setWidth} min_m={0.3} max_m={LONGEST_SIDE_M} />
      </div>
      {missing && <p class="refusal" role="alert">{t('layout.outline.both')}</p>}
      <Button kind="main" onPress={make}>{t('layout.outline.make')}</Button>
    </div>
  )
}

function CornerPicker({ count, picked, onPick }: { readonly count: number; readonly picked: number; readonly onPick: (index: number) => void }) {
  return (
    <div class="row" role="group" aria-label={t('layout.outline.corners')}>
      {Array.from({ length: count }, (_, i) => (
        <button key={i} type="button" class="corner-pick" aria-pressed={i === picked} aria-label={t('layout.outline.corner', { corner: i + 1 })} onClick={() => onPick(i)}>
          {i + 1}
        </button>
      ))}
    </div>
  )
}

interface CornerProps {
  readonly draft: OutlineDraft
  readonly index: number
  readonly onChange: (draft: OutlineDraft) => void
}

function SideFields({ draft, index, onChange }: CornerProps) {
  const { corners, abutting } = draft
  const next = (index + 1) % corners.length
  const from = corners[index]
  const to = corners[next]
  const [turn, setTurn] = useState<{ readonly index: number; readonly text: string } | null>(null)
  if (!from || !to) return null
  const leg = legsOf(corners)[index]
  const bend = (text: string): void => {
    const turn_deg = Number(text.replace(',', '.'))
    if (!Number.isFinite(turn_deg) || Math.abs(turn_deg) >= 180) return setTurn({ index, text })
    setTurn(null)
    const legs = legsOf(corners).map((one, i) => (i === index ? { ...one, turn_deg } : one))
    onChange({ corners: walkFrom(corners, legs), abutting })
  }
  return (
    <div class="pair">
      <LengthField label={t('layout.outline.side', { from: index + 1, to: next + 1 })} value_m={distance(from, to)} min_m={0.05} max_m={LONGEST_SIDE_M} onCommit={(length_m) => onChange({ corners: stretchSide(corners, index, length_m), abutting })} />
      <TextField
        label={t('layout.outline.turn', { corner: next + 1 })}
        value={turn?.index === index ? turn.text : String(Math.round((leg?.turn_deg ?? 0) * 10) / 10)}
        onCommit={bend}
        hint={t('layout.outline.turnHint')}
        error={turn?.index === index ? t('layout.outline.turnWrong') : null}
        inputMode="decimal"
      />
    </div>
  )
}

/** Walks the changed legs from the old first corner in the old first direction; the last leg closes the ring by itself. */
function walkFrom(corners: Ring, legs: readonly { readonly length_m: number; readonly turn_deg: number }[]): Point[] {
  const [a, b] = [corners[0] ?? [0, 0], corners[1] ?? [1, 0]]
  const heading = Math.atan2(b[1] - a[1], b[0] - a[0])
  const [cos, sin] = [Math.cos(heading), Math.sin(heading)]
  return cornersOf(legs).corners.map(([x, y]) => [round(a[0] + x * cos - y * sin), round(a[1] + x * sin + y * cos)] as const)
}

const round = (value: number): number => Math.round(value * 1e4) / 1e4

function PointFields({ draft, index, onChange }: CornerProps) {
  const { corners, abutting } = draft
  const at = corners[index]
  if (!at) return null
  const put = (to: Point): void => onChange({ corners: moveCorner(corners, index, to), abutting })
  return (
    <div class="pair">
      <LengthField label={t('layout.outline.x', { corner: index + 1 })} value_m={at[0]} onCommit={(x) => put([x, at[1]])} />
      <LengthField label={t('layout.outline.y', { corner: index + 1 })} value_m={at[1]} onCommit={(y) => put([at[0], y])} />
    </div>
  )
}

/** What the side stands against: house, garage, step, pool. Empty for a free edge. */
function AgainstField({ draft, index, onChange }: CornerProps) {
  const { corners, abutting } = draft
  const face = abutting.find((one) => one.edge === index)
  const put = (made: Abutting | null): void => {
    const others = abutting.filter((one) => one.edge !== index)
    onChange({ corners, abutting: made ? [...others, made].sort((a, b) => a.edge - b.edge) : others })
  }
  const side = { from: index + 1, to: ((index + 1) % corners.length) + 1 }
  const name = (text: string): void => put(text.trim() ? { ...face, edge: index, against: text.trim() } : null)
  return (
    <>
      <TextField label={t('layout.outline.against', side)} value={face?.against ?? ''} maxLength={80} hint={t('layout.outline.againstHint')} onCommit={name} />
      {face && (
        <Choice
          label={t('layout.outline.joined', side)}
          value={face.bonded ? 'bonded' : 'isolated'}
          options={[{ value: 'isolated', label: t('layout.outline.isolated'), hint: t('layout.outline.isolatedHint') }, { value: 'bonded', label: t('layout.outline.bonded'), hint: t('layout.outline.bondedHint') }]}
          onPick={(how) => put({ ...face, bonded: how === 'bonded' })}
        />
      )}
    </>
  )
}
