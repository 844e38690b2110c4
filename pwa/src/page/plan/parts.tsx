import { formatLength } from '../../shared/units'
import { t } from '../words'
import { distance, labelPoint, roomAt, sides, signedArea, type Point, type Ring } from './geometry'
import type { Abutting as Face } from './outline'
import { dimensionPlace, scaleBar, toScreen, type Frame } from './view'

/** What a bay is at: nothing yet, concrete in, its window's four words, or textured. */
export type BayState = 'empty' | 'placed' | 'too_soft' | 'ready' | 'closing' | 'past' | 'textured'
export type MarkKind = 'pin' | 'pin_closed' | 'form' | 'level' | 'low' | 'check'

export interface PlanBay {
  readonly id: string
  readonly label: string
  readonly corners: Ring
  readonly state?: BayState
}

export interface PlanMark {
  readonly id: string
  readonly spot: Point
  readonly label: string
  readonly kind: MarkKind
}

const path = (frame: Frame, ring: Ring): string =>
  `M${ring.map((p) => toScreen(frame, p).map((n) => n.toFixed(1)).join(' ')).join('L')}Z`

export function Outline({ frame, outline }: { readonly frame: Frame; readonly outline: Ring }) {
  return <path class="plan-outline" d={path(frame, outline)} />
}

/** One pattern per state: told apart without colour. */
export function Patterns({ id }: { readonly id: string }) {
  const tile = (state: BayState, d: string, fill = false) => (
    <pattern id={`${id}-${state}`} width="8" height="8" patternUnits="userSpaceOnUse">
      <path d={d} class={fill ? 'plan-dot' : 'plan-hatch'} />
    </pattern>
  )
  return (
    <defs>
      {tile('placed', 'M4 3a1 1 0 1 0 .1 0', true)}
      {tile('too_soft', 'M0 4h4')}
      {tile('ready', 'M-2 2L2-2M0 8L8 0M6 10L10 6')}
      {tile('closing', 'M-2 2L2-2M0 8L8 0M6 10L10 6M0 0L8 8')}
      {tile('past', 'M0 4h8M4 0v8')}
      {tile('textured', 'M1 1h3v3h-3zM5 5h3v3h-3z')}
      <pattern id={`${id}-against`} width="6" height="6" patternUnits="userSpaceOnUse">
        <path d="M-1.5 1.5L1.5-1.5M0 6L6 0M4.5 7.5L7.5 4.5" class="plan-hatch" />
      </pattern>
    </defs>
  )
}

/** What a bay is at, in a word; empty for nothing yet. */
export function bayWord({ state }: PlanBay): string {
  return state && state !== 'empty' ? t(`layout.bayState.${state}`) : ''
}

/** Whether the word can stand in the bay (about 7 units a letter). Where it can't, the caption says it. */
export function hasRoom(frame: Frame, bay: PlanBay, word: string): boolean {
  return roomAt(bay.corners, labelPoint(bay.corners)) * frame.scale >= 7 * word.length
}

interface BaysProps {
  readonly frame: Frame
  readonly bays: readonly PlanBay[]
  readonly id: string
  readonly picked: string | null
  readonly onPick: ((bay: string) => void) | undefined
}

export function Bays({ frame, bays, id, picked, onPick }: BaysProps) {
  return <>{bays.map((bay) => <Bay key={bay.id} frame={frame} bay={bay} id={id} picked={bay.id === picked} onPick={onPick} />)}</>
}

function Bay({ frame, bay, id, picked, onPick }: { readonly frame: Frame; readonly bay: PlanBay; readonly id: string; readonly picked: boolean; readonly onPick: ((bay: string) => void) | undefined }) {
  const [x, y] = toScreen(frame, labelPoint(bay.corners))
  const word = bayWord(bay)
  const fits = word !== '' && hasRoom(frame, bay, word)
  const pick = (): void => onPick?.(bay.id)
  const press = (event: KeyboardEvent): void => {
    if (event.key !== 'Enter' && event.key !== ' ') return
    event.preventDefault()
    pick()
  }
  const control = onPick && { role: 'button' as const, tabindex: 0, 'aria-pressed': picked, 'aria-label': t('layout.plan.bay', { label: bay.label, state: word }), onClick: pick, onKeyDown: press }
  return (
    <>
      <g class={`plan-bay${picked ? ' plan-bay-picked' : ''}`} {...control}>
        <path class="plan-bay-ground" d={path(frame, bay.corners)} />
        {bay.state && bay.state !== 'empty' && <path d={path(frame, bay.corners)} fill={`url(#${id}-${bay.state})`} />}
      </g>
      <g aria-hidden={!!onPick}>
        <text class="plan-label" x={x} y={fits ? y - 2 : y + 5}>{bay.label}</text>
        {fits && <text class="plan-state" x={x} y={y + 13}>{word}</text>}
      </g>
    </>
  )
}

/** A band of hatching outside each side that stands against something. */
export function Abutting({ frame, outline, faces, id }: { readonly frame: Frame; readonly outline: Ring; readonly faces: readonly Face[]; readonly id: string }) {
  const counterClockwise = signedArea(outline) > 0
  return (
    <>
      {faces.map((face) => {
        const [a, b] = sides(outline)[face.edge] ?? []
        if (!a || !b) return null
        const outer = outsideBand(frame, a, b, counterClockwise, 9)
        return <path key={face.edge} class="plan-against" d={outer} fill={`url(#${id}-against)`} />
      })}
    </>
  )
}

function outsideBand(frame: Frame, a: Point, b: Point, counterClockwise: boolean, deep: number): string {
  const [p, q] = [toScreen(frame, a), toScreen(frame, b)]
  const length = Math.hypot(q[0] - p[0], q[1] - p[1]) || 1
  const side = counterClockwise ? 1 : -1
  const [ox, oy] = [((-(q[1] - p[1]) * side) / length) * deep, (((q[0] - p[0]) * side) / length) * deep]
  const corners = [p, q, [q[0] + ox, q[1] + oy], [p[0] + ox, p[1] + oy]] as const
  return `M${corners.map(([x, y]) => `${x.toFixed(1)} ${y.toFixed(1)}`).join('L')}Z`
}

export function Dimensions({ frame, outline, system }: { readonly frame: Frame; readonly outline: Ring; readonly system: 'us' | 'metric' }) {
  const counterClockwise = signedArea(outline) > 0
  return (
    <>
      {sides(outline).map(([a, b], i) => {
        if (distance(a, b) * frame.scale < 26) return null
        const { at, angle_deg } = dimensionPlace(frame, a, b, counterClockwise, 20)
        return (
          <text key={i} class="plan-dimension" x={at[0]} y={at[1]} transform={`rotate(${angle_deg.toFixed(1)} ${at[0].toFixed(1)} ${at[1].toFixed(1)})`} dy="4">
            {formatLength(distance(a, b), system)}
          </text>
        )
      })}
    </>
  )
}

/** Each kind of mark has a shape of its own. */
const SHAPES: Record<MarkKind, string> = {
  pin: 'M0 0L-7-12A8 8 0 1 1 7-12Z',
  pin_closed: 'M-6-6L6 6M6-6L-6 6',
  form: 'M-6-6H6V6H-6Z',
  level: 'M0-8L7 5H-7Z',
  low: 'M0 8L-8-6H8Z',
  check: 'M0-7L7 0L0 7L-7 0Z',
}

export function Marks({ frame, marks }: { readonly frame: Frame; readonly marks: readonly PlanMark[] }) {
  return (
    <>
      {marks.map((mark) => {
        const [x, y] = toScreen(frame, mark.spot)
        return (
          <g key={mark.id} transform={`translate(${x.toFixed(1)} ${y.toFixed(1)})`} class={`plan-mark plan-mark-${mark.kind}`}>
            <path d={SHAPES[mark.kind]} />
            <text x="10" y="4">{mark.label}</text>
          </g>
        )
      })}
    </>
  )
}

export function SpotMark({ frame, spot }: { readonly frame: Frame; readonly spot: Point }) {
  const [x, y] = toScreen(frame, spot)
  return (
    <g class="plan-spot" transform={`translate(${x.toFixed(1)} ${y.toFixed(1)})`}>
      <circle r="14" />
      <path d="M-22 0H-6M6 0H22M0-22V-6M0 6V22" />
    </g>
  )
}

export function ScaleMark({ frame, system }: { readonly frame: Frame; readonly system: 'us' | 'metric' }) {
  const bar = scaleBar(frame, system, frame.width * 0.3)
  const y = frame.height - 6
  return (
    <g class="plan-scale" transform={`translate(6 ${y.toFixed(1)})`}>
      <path d={`M0-5V0H${bar.length.toFixed(1)}V-5`} />
      <text x={bar.length + 5} y="0">{`${bar.value} ${bar.unit}`}</text>
    </g>
  )
}

/** An arrow the way the water runs, from the middle of the slab. */
export function FallArrow({ frame, outline, direction_deg }: { readonly frame: Frame; readonly outline: Ring; readonly direction_deg: number }) {
  const [x, y] = toScreen(frame, labelPoint(outline))
  return <path class="plan-fall" d="M-34 0H30M16-12L32 0L16 12" transform={`translate(${x.toFixed(1)} ${y.toFixed(1)}) rotate(${(-direction_deg).toFixed(1)})`} />
}
