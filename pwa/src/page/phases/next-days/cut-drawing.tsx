import { useId } from 'preact/hooks'
import type { JobView } from '../../../shared/job'
import { Bays, Outline, Patterns } from '../../plan/parts'
import { PLAN_WIDTH } from '../../plan/plan'
import { frameFor, toScreen } from '../../plan/view'
import { t } from '../../words'
import type { CutLine } from './cuts'

const MOST_HEIGHT = 320
const MARGIN = 20

/** The slab with its cuts: dashed to do, solid and crossed once made, dotted and marked where they come too late. */
export function CutDrawing({ job, lines }: { readonly job: JobView; readonly lines: readonly CutLine[] }) {
  const id = useId()
  if (!job.slab) return null
  const frame = frameFor(job.slab.corners, PLAN_WIDTH, MOST_HEIGHT, MARGIN)
  const bays = job.bays.map((bay) => ({ id: bay.id, label: '', corners: bay.corners, state: 'empty' as const }))
  const made = lines.filter((line) => line.made).length
  return (
    <figure class="plan">
      <svg class="plan-drawing" viewBox={`0 0 ${frame.width} ${Math.round(frame.height)}`} role="img" aria-label={t('nextDays.cutPlanName', { count: lines.length, made })}>
        <Patterns id={id} />
        <Bays frame={frame} bays={bays} id={id} picked={null} onPick={undefined} />
        <Outline frame={frame} outline={job.slab.corners} />
        {lines.map((line) => {
          const [a, b] = [toScreen(frame, line.from), toScreen(frame, line.to)]
          const share = line.number % 2 ? 0.3 : 0.7
          const [x, y] = [a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share]
          const look = line.made ? 'cut-made' : line.ahead?.late ? 'cut-late' : 'cut-todo'
          return (
            <g key={line.id} class={look}>
              <path d={`M${a[0].toFixed(1)} ${a[1].toFixed(1)}L${b[0].toFixed(1)} ${b[1].toFixed(1)}`} />
              <circle cx={x} cy={y} r="12" />
              <text x={x} y={y + 4.5} text-anchor="middle">{line.made ? '✓' : line.ahead?.late ? `${line.number}!` : line.number}</text>
            </g>
          )
        })}
      </svg>
    </figure>
  )
}
