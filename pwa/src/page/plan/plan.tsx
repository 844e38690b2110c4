import { useId, useRef } from 'preact/hooks'
import { units } from '../shell/preferences'
import { t } from '../words'
import { contains, type Point, type Ring } from './geometry'
import { Abutting, Bays, Dimensions, FallArrow, Marks, Outline, Patterns, ScaleMark, SpotMark, bayWord, hasRoom, type BayState, type MarkKind, type PlanBay, type PlanMark } from './parts'
import type { Abutting as Face } from './outline'
import { frameFor, nudge, toPlan, type Frame } from './view'
import { Ways, type PlanWay } from './ways'
import './style.css'

export type { BayState, MarkKind, PlanBay, PlanMark, PlanWay }

/** Width of the drawing in its own units: at 390 px a unit is about a pixel. */
export const PLAN_WIDTH = 360
const MOST_HEIGHT = 380
const MARGIN = 38

export interface PlanProps {
  readonly outline: Ring
  readonly abutting?: readonly Face[]
  readonly bays?: readonly PlanBay[]
  readonly marks?: readonly PlanMark[]
  /** Sides that are told apart: the ways off the slab. */
  readonly ways?: readonly PlanWay[]
  /** look: a picture. spot: a touch gives the place on the slab. bay: a touch picks a bay. side: a touch gives the place beside a side; keys beside the plan must offer the same. */
  readonly mode?: 'look' | 'spot' | 'bay' | 'side'
  readonly spot?: Point | null
  readonly onSpot?: (spot: Point) => void
  readonly bay?: string | null
  readonly onBay?: (bay: string) => void
  readonly dimensions?: boolean
  /** What a touch does here, where it does not just set the spot; empty where a heading says it. */
  readonly asks?: string
  /** Where water runs, degrees counter-clockwise from the plan's x axis. */
  readonly fall?: number | null
  /** What the plan shows, for those who do not see it. */
  readonly label?: string
}

/** The slab drawn to scale, with what is known about it. */
export function Plan(props: PlanProps) {
  const { outline, abutting = [], bays = [], marks = [], ways = [], mode = 'look', spot, onSpot, bay, onBay, dimensions = true } = props
  const id = useId()
  const frame = frameFor(outline, PLAN_WIDTH, MOST_HEIGHT, MARGIN)
  const label = props.label ?? [t('layout.plan.name', { bays: bays.length }), ...bays.filter(bayWord).map((one) => `${one.label}: ${bayWord(one)}.`)].join(' ')
  return (
    <figure class="plan">
      <PlanSurface frame={frame} mode={mode} label={label} spot={spot ?? null} onSpot={onSpot} outline={outline}>
        <Patterns id={id} />
        <Abutting frame={frame} outline={outline} faces={abutting} id={id} />
        <Outline frame={frame} outline={outline} />
        <Bays frame={frame} bays={bays} id={id} picked={bay ?? null} onPick={mode === 'bay' ? onBay : undefined} />
        {dimensions && <Dimensions frame={frame} outline={outline} system={units.value} />}
        <Ways frame={frame} outline={outline} ways={ways} />
        {props.fall != null && <FallArrow frame={frame} outline={outline} direction_deg={props.fall} />}
        <Marks frame={frame} marks={marks} />
        {spot && <SpotMark frame={frame} spot={spot} />}
        <ScaleMark frame={frame} system={units.value} />
      </PlanSurface>
      {outsideWords(frame, bays) && <p class="soft">{outsideWords(frame, bays)}</p>}
      {(props.asks ?? mode === 'spot') && <figcaption class="soft">{props.asks ?? t('layout.plan.touch')}</figcaption>}
    </figure>
  )
}

/** The words that found no room in their bay: "A too soft · B ready". */
function outsideWords(frame: Frame, bays: readonly PlanBay[]): string {
  const without = bays.filter((bay) => bayWord(bay) !== '' && !hasRoom(frame, bay, bayWord(bay)))
  return without.map((bay) => `${bay.label} ${bayWord(bay)}`).join(' · ')
}

interface SurfaceProps {
  readonly frame: Frame
  readonly mode: 'look' | 'spot' | 'bay' | 'side'
  readonly label: string
  readonly outline: Ring
  readonly spot: Point | null
  readonly onSpot: ((spot: Point) => void) | undefined
  readonly children: preact.ComponentChildren
}

const ROLES = { look: 'img', side: 'img', bay: 'group', spot: 'application' } as const

/** The drawing surface: turns touches and arrow keys into spots while a spot is asked for. */
function PlanSurface({ frame, mode, label, outline, spot, onSpot, children }: SurfaceProps) {
  const svg = useRef<SVGSVGElement>(null)
  const taking = (mode === 'spot' || mode === 'side') && onSpot
  const byKeys = mode === 'spot' && onSpot
  const touch = (event: MouseEvent): void => {
    const at = svg.current && placeOf(svg.current, event)
    if (taking && at) onSpot(toPlan(frame, at))
  }
  const press = (event: KeyboardEvent): void => {
    if (!byKeys) return
    const moved = nudge(spot ?? startSpot(outline), event.key, units.value, event.shiftKey)
    if (!moved) return
    event.preventDefault()
    onSpot(moved)
  }
  return (
    <svg
      ref={svg}
      class={`plan-drawing plan-mode-${mode}`}
      viewBox={`0 0 ${frame.width} ${Math.round(frame.height)}`}
      role={ROLES[mode]}
      aria-label={mode === 'spot' ? `${label} ${t('layout.plan.keys')}` : label}
      tabindex={byKeys ? 0 : undefined}
      onClick={taking ? touch : undefined}
      onKeyDown={byKeys ? press : undefined}
    >
      {children}
    </svg>
  )
}

function startSpot(outline: Ring): Point {
  const x = outline.reduce((sum, p) => sum + p[0], 0) / outline.length
  const y = outline.reduce((sum, p) => sum + p[1], 0) / outline.length
  return [x, y]
}

/** Where on the drawing a pointer is, in drawing units. */
export function placeOf(svg: SVGSVGElement, event: { readonly clientX: number; readonly clientY: number }): Point | null {
  const matrix = svg.getScreenCTM()
  if (!matrix) return null
  const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse())
  return [at.x, at.y]
}

/** The bay a spot lies in. */
export function bayAt<B extends { readonly corners: Ring }>(bays: readonly B[], spot: Point): B | undefined {
  return bays.find((bay) => contains(bay.corners, spot))
}
