/** What each answer looks like on the slab, cut through: our own drawings, to scale in depth. */
import type { CheckKind } from '../../../../shared/job'

const TOP = 16
/** Drawing units for a millimetre of depth. */
const SCALE = 0.62

interface SlabProps {
  /** The surface from left to right, as path commands after the first point. */
  readonly surface: string
  readonly children?: preact.ComponentChildren
}

function Slab({ surface, children }: SlabProps) {
  return (
    <svg class="check-picture" viewBox="0 0 64 40" width="64" height="40" aria-hidden="true">
      <path class="check-concrete" d={`M2 ${TOP}${surface}H62V38H2Z`} />
      {children}
    </svg>
  )
}

/** A boot in its print: the sole goes as deep as it went. */
export function PrintPicture({ depth_mm }: { readonly depth_mm: number }) {
  const floor = TOP + depth_mm * SCALE
  return (
    <Slab surface={`H16V${floor}H48V${TOP}`}>
      <path class="check-line" d={`M18 ${floor - 1}V${floor - 5}H46V${floor - 1}ZM20 ${floor - 5}C20 ${floor - 11} 24 ${floor - 10} 25 ${floor - 14}H34C34 ${floor - 9} 42 ${floor - 9} 45 ${floor - 5}`} />
    </Slab>
  )
}

export function ThumbPicture({ depth_mm }: { readonly depth_mm: number }) {
  const deep = depth_mm * SCALE * 1.6
  const floor = TOP + deep
  return (
    <Slab surface={deep > 0 ? `H24C26 ${floor + deep * 0.3} 38 ${floor + deep * 0.3} 40 ${TOP}` : 'H40'}>
      <path class="check-line" d={`M27 2V${floor - 6}C27 ${floor + 1} 37 ${floor + 1} 37 ${floor - 6}V2M29 ${floor - 7}C30 ${floor - 10} 34 ${floor - 10} 35 ${floor - 7}`} />
    </Slab>
  )
}

/** The pattern as it stands in the slab, under the mat that has it. */
const PRINT = 'H8V22C12 27 14 27 18 22C22 27 28 27 32 22C36 27 42 27 46 22C50 27 52 27 56 22V16'

/** The mat above what it leaves: the pattern whole, paste hanging from it, or hardly a mark. */
export function MatPicture({ kind }: { readonly kind: Exclude<CheckKind, 'footprint' | 'thumb'> }) {
  return (
    <Slab surface={kind === 'mat_refused' ? 'H24L25 17.5L26 16H44L45 17.5L46 16' : PRINT}>
      <path class="check-mat" d="M8 3H56V8C52 13 50 13 46 8C42 13 36 13 32 8C28 13 22 13 18 8C14 13 12 13 8 8Z" />
      {kind === 'mat_sticks' && <path class="check-strands" d={`M14 11L13 ${TOP + 8}M25 11L26 ${TOP + 8}M39 11L38 ${TOP + 8}M50 11L51 ${TOP + 8}`} />}
    </Slab>
  )
}
