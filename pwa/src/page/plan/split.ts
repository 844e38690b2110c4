/** Cutting a ring by a straight line. Works for any simple ring; a re-entrant one may fall into several pieces. */
import { area, distance, SAME_POINT_M, tidy, type Point, type Ring } from './geometry'

/** The kept side is where `normal · p >= offset_m`; the normal has length 1. */
export interface HalfPlane {
  readonly normal: Point
  readonly offset_m: number
}

export function opposite({ normal, offset_m }: HalfPlane): HalfPlane {
  return { normal: [-normal[0], -normal[1]], offset_m: -offset_m }
}

function depth({ normal, offset_m }: HalfPlane, p: Point): number {
  return normal[0] * p[0] + normal[1] * p[1] - offset_m
}

/** A run of corners on the kept side: starts where the ring enters it and ends where it leaves. */
interface Chain {
  readonly points: Point[]
  /** Position along the cut line of the first and of the last point [m]. */
  readonly entry: number
  readonly exit: number
}

/** The pieces of `ring` on the kept side of the line, slivers without area left out. */
export function keepSide(ring: Ring, plane: HalfPlane): Ring[] {
  const depths = ring.map((p) => {
    const d = depth(plane, p)
    return Math.abs(d) < SAME_POINT_M ? 0 : d
  })
  if (depths.every((d) => d >= 0)) return area(ring) > 0 ? [ring] : []
  if (depths.every((d) => d < 0)) return []
  return joinChains(chainsOf(ring, depths, plane))
    .map(tidy)
    .filter((piece) => piece.length >= 3 && area(piece) > SAME_POINT_M)
}

function crossing(a: Point, b: Point, da: number, db: number): Point {
  const share = da / (da - db)
  return [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])]
}

function chainsOf(ring: Ring, depths: readonly number[], plane: HalfPlane): Chain[] {
  const n = ring.length
  const along = (p: Point): number => -plane.normal[1] * p[0] + plane.normal[0] * p[1]
  const firstOut = depths.findIndex((d) => d < 0)
  const chains: Chain[] = []
  let open: Point[] | undefined
  for (let step = 0; step < n; step++) {
    const i = (firstOut + step) % n
    const j = (i + 1) % n
    const [a, b, da, db] = [ring[i], ring[j], depths[i], depths[j]]
    if (!a || !b || da === undefined || db === undefined) continue
    if (da < 0 && db >= 0) open = [crossing(a, b, da, db)]
    if (db >= 0) open?.push(b)
    if (da >= 0 && db < 0 && open) {
      open.push(crossing(a, b, da, db))
      chains.push({ points: open, entry: along(open[0] ?? a), exit: along(open[open.length - 1] ?? a) })
      open = undefined
    }
  }
  return chains
}

/** Along the line, cuts pair off (in, out), (in, out)…: each chain's end runs on to the start it is paired with. */
function joinChains(chains: readonly Chain[]): Point[][] {
  const ends = chains
    .flatMap((chain) => [{ chain, at: chain.entry, starts: true }, { chain, at: chain.exit, starts: false }])
    .sort((p, q) => p.at - q.at)
  const next = new Map<Chain, Chain>()
  for (let i = 0; i + 1 < ends.length; i += 2) {
    const [one, two] = [ends[i], ends[i + 1]]
    if (!one || !two) continue
    if (one.starts) next.set(two.chain, one.chain)
    else next.set(one.chain, two.chain)
  }
  const left = new Set(chains)
  const loops: Point[][] = []
  for (const start of chains) {
    const loop: Point[] = []
    for (let chain: Chain | undefined = start; chain && left.delete(chain); chain = next.get(chain)) loop.push(...chain.points)
    if (loop.length) loops.push(loop)
  }
  return loops
}

/** The direction the ring is longest in (length 1), taken along one of its sides, with its extents [m]. */
export function longDirection(ring: Ring): { readonly direction: Point; readonly length_m: number; readonly width_m: number } {
  let best = { direction: [1, 0] as Point, length_m: 0, width_m: 0, box: Infinity }
  for (let i = 0; i < ring.length; i++) {
    const [a, b] = [ring[i], ring[(i + 1) % ring.length]]
    if (!a || !b || distance(a, b) < SAME_POINT_M) continue
    const unit: Point = [(b[0] - a[0]) / distance(a, b), (b[1] - a[1]) / distance(a, b)]
    const along = extent(ring, unit)
    const across = extent(ring, [-unit[1], unit[0]])
    if (along * across >= best.box - 1e-9) continue
    const direction: Point = along >= across ? unit : [-unit[1], unit[0]]
    best = { direction, length_m: Math.max(along, across), width_m: Math.min(along, across), box: along * across }
  }
  return { direction: facingRightOrUp(best.direction), length_m: best.length_m, width_m: best.width_m }
}

function facingRightOrUp([x, y]: Point): Point {
  return x < -1e-9 || (Math.abs(x) <= 1e-9 && y < 0) ? [-x, -y] : [x, y]
}

function extent(ring: Ring, unit: Point): number {
  const along = ring.map((p) => p[0] * unit[0] + p[1] * unit[1])
  return Math.max(...along) - Math.min(...along)
}

/**
 * Cuts a ring across `direction` into strips whose areas stand to each other as `weights`.
 * Returns one list of pieces per weight, in the order of the direction.
 */
export function splitByWeight(ring: Ring, weights: readonly number[], direction: Point): Ring[][] {
  const total = weights.reduce((sum, w) => sum + w, 0)
  if (!(total > 0) || weights.some((w) => !(w > 0))) throw new Error('Every bay needs a share above zero.')
  const whole = area(ring)
  const strips: Ring[][] = []
  let rest: Ring[] = [ring]
  let done = 0
  for (const weight of weights.slice(0, -1)) {
    done += weight
    const line = lineAtArea(ring, direction, (whole * done) / total)
    strips.push(rest.flatMap((piece) => keepSide(piece, opposite(line))))
    rest = rest.flatMap((piece) => keepSide(piece, line))
  }
  return [...strips, rest]
}

/** The line across `direction` that leaves `target_m2` of the ring behind it; 60 halvings are far below a millimetre. */
function lineAtArea(ring: Ring, direction: Point, target_m2: number): HalfPlane {
  const along = ring.map((p) => p[0] * direction[0] + p[1] * direction[1])
  let [low, high] = [Math.min(...along), Math.max(...along)]
  for (let i = 0; i < 60; i++) {
    const offset_m = (low + high) / 2
    const behind = keepSide(ring, opposite({ normal: direction, offset_m })).reduce((sum, piece) => sum + area(piece), 0)
    if (behind < target_m2) low = offset_m
    else high = offset_m
  }
  return { normal: direction, offset_m: (low + high) / 2 }
}
