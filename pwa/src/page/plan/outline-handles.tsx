import { useRef, useState } from 'preact/hooks'
import { units } from '../shell/preferences'
import { t } from '../words'
import type { Point, Ring } from './geometry'
import type { Abutting as Face } from './outline'
import { Abutting, Dimensions, Outline, Patterns, ScaleMark } from './parts'
import { placeOf, PLAN_WIDTH } from './plan'
import { frameFor, nudge, snap, toPlan, toScreen, type Frame } from './view'

interface HandlesProps {
  readonly corners: Ring
  readonly abutting: readonly Face[]
  readonly picked: number
  readonly onPick: (index: number) => void
  readonly onHold: () => void
  readonly onDrag: (index: number, to: Point) => void
  readonly onMove: (index: number, to: Point) => void
}

/** The outline with a handle on each corner: drag it, or move it with the arrow keys. */
export function OutlineHandles({ corners, abutting, picked, onPick, onHold, onDrag, onMove }: HandlesProps) {
  const svg = useRef<SVGSVGElement>(null)
  // While a corner is dragged the drawing keeps its scale, or the corner would run from under the finger.
  const [held, setHeld] = useState<{ readonly index: number; readonly frame: Frame } | null>(null)
  const fitted = frameFor(corners, PLAN_WIDTH, 400, 46)
  const frame = held?.frame ?? fitted
  const drag = (event: PointerEvent): void => {
    const at = held && svg.current && placeOf(svg.current, event)
    if (held && at) onDrag(held.index, snap(toPlan(held.frame, at), units.value))
  }
  return (
    <svg
      ref={svg}
      class="plan-drawing"
      viewBox={`0 0 ${frame.width} ${Math.round(frame.height)}`}
      role="group"
      aria-label={t('layout.outline.drawing')}
      onPointerMove={held ? drag : undefined}
      onPointerUp={() => setHeld(null)}
      onPointerCancel={() => setHeld(null)}
    >
      <Patterns id="outline" />
      <Abutting frame={frame} outline={corners} faces={abutting} id="outline" />
      <Outline frame={frame} outline={corners} />
      <Dimensions frame={frame} outline={corners} system={units.value} />
      {corners.map((corner, i) => (
        <Handle key={i} at={toScreen(frame, corner)} index={i} picked={i === picked} onPick={onPick} onHold={() => { onHold(); setHeld({ index: i, frame }) }} onNudge={(key, fine) => {
          const to = nudge(corner, key, units.value, fine)
          if (to) onMove(i, to)
          return to !== undefined
        }} />
      ))}
      <ScaleMark frame={frame} system={units.value} />
    </svg>
  )
}

interface HandleProps {
  readonly at: Point
  readonly index: number
  readonly picked: boolean
  readonly onPick: (index: number) => void
  readonly onHold: () => void
  readonly onNudge: (key: string, fine: boolean) => boolean
}

function Handle({ at, index, picked, onPick, onHold, onNudge }: HandleProps) {
  return (
    <g
      class={`plan-handle${picked ? ' plan-handle-picked' : ''}`}
      role="button"
      tabindex={0}
      aria-pressed={picked}
      aria-label={t('layout.outline.cornerMove', { corner: index + 1 })}
      onFocus={() => onPick(index)}
      onPointerDown={(event) => {
        event.preventDefault()
        ;(event.currentTarget as SVGGElement).ownerSVGElement?.setPointerCapture(event.pointerId)
        onPick(index)
        onHold()
      }}
      onKeyDown={(event) => {
        if (onNudge(event.key, event.shiftKey)) event.preventDefault()
      }}
    >
      <circle class="plan-handle-reach" cx={at[0]} cy={at[1]} r="25" />
      <circle cx={at[0]} cy={at[1]} r="9" />
      <text x={at[0] + 12} y={at[1] - 10}>{index + 1}</text>
    </g>
  )
}
