import { sides, signedArea, type Ring } from './geometry'
import { dimensionPlace, toScreen, type Frame } from './view'

/** A side of the slab one may leave by, and its word on the plan. */
export interface PlanWay {
  readonly side: number
  readonly label: string
  readonly picked: boolean
}

/** A line along each way out: unbroken and thick where it is the one chosen, its word beside the slab. */
export function Ways({ frame, outline, ways }: { readonly frame: Frame; readonly outline: Ring; readonly ways: readonly PlanWay[] }) {
  const counterClockwise = signedArea(outline) > 0
  return (
    <>
      {ways.map(({ side, label, picked }) => {
        const [a, b] = sides(outline)[side] ?? []
        if (!a || !b) return null
        const [[x1, y1], [x2, y2]] = [toScreen(frame, a), toScreen(frame, b)]
        const { at, angle_deg } = dimensionPlace(frame, a, b, counterClockwise, 20)
        const [x, y] = [at[0].toFixed(1), at[1].toFixed(1)]
        const turned = label.length > 2 ? angle_deg : 0
        return (
          <g key={side} class={`plan-way${picked ? ' plan-way-picked' : ''}`}>
            <line x1={x1.toFixed(1)} y1={y1.toFixed(1)} x2={x2.toFixed(1)} y2={y2.toFixed(1)} />
            <text x={x} y={y} transform={`rotate(${turned.toFixed(1)} ${x} ${y})`} dy="6">{label}</text>
          </g>
        )
      })}
    </>
  )
}
