import { describe, expect, it } from 'vitest'
import { sides, type Point } from '../../../pwa/src/page/plan/geometry'
import { isWhose, shares } from '../../../pwa/src/page/phases/pins/owners'
import { howToReach, openGround, wayTo, type WalkBay } from '../../../pwa/src/page/phases/pins/reach'
import { exitSide, groundOf, orderPins, walkOf, wayOutAt } from '../../../pwa/src/page/phases/pins/walk'
import type { Pin } from '../../../pwa/src/shared/job'
import type { Timeline } from '../../../pwa/src/page/sync/contract'
import { ana, at, bay, bayId, ben, loadId, madeJob, MORNING, pinId, slab, ticket, type Entry } from './made-job'

const box = (x0: number, y0: number, x1: number, y1: number): Point[] => [[x0, y0], [x1, y0], [x1, y1], [x0, y1]]
const walkBay = (id: string, corners: Point[]): WalkBay => ({ id, label: id, corners, ground: 'firm' })
const pinAt = (id: string, x: number, y: number, of: string | null = null): Pin => ({ id, spot: [x, y], bay: of, open: true, what: 'thin_texture' }) as unknown as Pin
const ids = (stops: readonly { readonly pin: Pin }[]): string[] => stops.map(({ pin }) => pin.id)

// A strip 12 by 4 m: house along the bottom (side 0), poured left to right, way out on the right (side 1).
const strip = { corners: box(0, 0, 12, 4), barred: [0] }
const far = walkBay('A', box(0, 0, 4, 4))
const middle = walkBay('B', box(4, 0, 8, 4))
const near = walkBay('C', box(8, 0, 12, 4))

describe('a strip', () => {
  it('is left by the free side farthest from where the work began', () => {
    expect(exitSide(strip, [far, middle, near])).toBe(1)
    expect(exitSide(strip, [near, middle, far])).toBe(3)
    expect(exitSide({ ...strip, barred: [0, 1] }, [far, middle, near])).not.toBe(1)
  })

  it('is walked from the far end to the way out, whatever the order the pins were dropped in', () => {
    const pins = [pinAt('near', 11, 2), pinAt('far', 0.5, 2), pinAt('middle', 6, 2)]
    expect(ids(orderPins(pins, strip, [far, middle, near], 1))).toEqual(['far', 'middle', 'near'])
  })

  it('is crossed there and back where pins are equally far', () => {
    const pins = [pinAt('a1', 1.0, 3.5), pinAt('a2', 1.1, 0.5), pinAt('b1', 3.0, 3.5), pinAt('b2', 3.1, 0.5)]
    expect(ids(orderPins(pins, strip, [], 1))).toEqual(['a2', 'a1', 'b1', 'b2'])
  })

  it('is worked from its free edges, but not from the side along the house', () => {
    expect(howToReach([2, 3.2], strip, [far, { ...middle, ground: 'shut' as const }, near])).toBe('edge')
    expect(howToReach([6, 0.5], strip, [far, { ...middle, ground: 'shut' as const }, near])).toBe('board')
  })

  it('lets no one over a bay that is textured and still soft', () => {
    const soft = { ...middle, ground: 'shut' as const }
    expect(howToReach([6, 2], strip, [far, soft, near])).toBe('board')
    expect(howToReach([7.3, 2], strip, [far, soft, near])).toBe('walk') // an arm's length from firm ground
    expect(howToReach([7.0, 2], strip, [far, soft, near])).toBe('board')
    expect(orderPins([pinAt('p', 6, 2, 'B')], strip, [far, soft, near], 1)[0]).toMatchObject({ how: 'board', over: 'B' })
  })

  it('is worked from a mat where its bay is not textured yet, from firm ground if that is in reach', () => {
    const fresh = { ...near, ground: 'soft' as const }
    expect(howToReach([10, 2], strip, [far, middle, fresh])).toBe('mat')
    expect(howToReach([8.5, 2], strip, [far, middle, fresh])).toBe('walk')
  })

  it('does not count open ground that can only be reached over soft bays', () => {
    // house below and above: only the two ends are free
    const corridor = { ...strip, barred: [0, 2] }
    expect(openGround(corridor, [{ ...far, ground: 'shut' as const }, middle, { ...near, ground: 'shut' as const }])).toEqual([])
    expect(howToReach([6, 2], corridor, [{ ...far, ground: 'shut' as const }, middle, { ...near, ground: 'shut' as const }])).toBe('board')
    expect(howToReach([6, 2], corridor, [{ ...far, ground: 'shut' as const }, middle, near])).toBe('walk')
  })
})

// An L: a leg up the left (0..4 by 0..12), a leg along the bottom (0..12 by 0..4).
const ell: Point[] = [[0, 0], [12, 0], [12, 4], [4, 4], [4, 12], [0, 12]]

describe('an L', () => {
  const rightEnd = sides(ell)[1] as readonly [Point, Point]

  it('measures the way round the inner corner, not through the air', () => {
    expect(wayTo([2, 2], rightEnd, ell)).toBeCloseTo(10, 6)
    // from the top of the leg: to the inner corner (4, 4), then straight
    expect(wayTo([2, 11], rightEnd, ell)).toBeCloseTo(Math.hypot(2, 7) + 8, 6)
  })

  it('is walked from the top of its leg round the corner to the end of the other', () => {
    const pins = [pinAt('end', 11, 2), pinAt('corner', 2, 2), pinAt('top', 2, 11), pinAt('leg', 2, 7)]
    // by the crow the corner (10 m) would come before the leg (11.2 m by the way round)
    expect(ids(orderPins(pins, { corners: ell, barred: [] }, [], 1))).toEqual(['top', 'leg', 'corner', 'end'])
  })

  it('takes a splash beside the slab from the slab’s nearest edge', () => {
    const stops = orderPins([pinAt('in', 6, 2), pinAt('wall', 2, 12.5)], { corners: ell, barred: [] }, [], 1)
    expect(ids(stops)).toEqual(['wall', 'in'])
    expect(stops.every(({ left_m }) => Number.isFinite(left_m))).toBe(true)
  })
})

describe('a textured bay', () => {
  const texture: Entry[] = [ticket(1), bay(1, 0, 4, loadId(1)), { kind: 'bay.worked', body: { bay: bayId(1), step: 'texture', mark: 'end' }, minutes: 0 }]
  const bayOne = () => madeJob(...texture).bays[0]!
  const curve = (minutes: number): Timeline => ({ loads: [{ id: loadId(1), windows: {}, curve: [{ at: at(0), penetration_mpa: 1 }, { at: at(minutes), penetration_mpa: 27.6 }] }] }) as unknown as Timeline
  const later = (minutes: number): Date => new Date(MORNING + minutes * 60_000)

  it('may be stepped on from final set', () => {
    expect(groundOf(bayOne(), curve(240), later(239))).toBe('shut')
    expect(groundOf(bayOne(), curve(240), later(240))).toBe('firm')
  })

  it('may be stepped on the next day where no times are known', () => {
    expect(groundOf(bayOne(), null, later(23 * 60))).toBe('shut')
    expect(groundOf(bayOne(), null, later(24 * 60))).toBe('firm')
  })

  it('is worked from mats before its texture is done', () => {
    const untextured = madeJob(...texture.slice(0, 2)).bays[0]!
    expect(groundOf(untextured, null, later(0))).toBe('soft')
    expect(groundOf(untextured, curve(240), later(300))).toBe('firm')
  })
})

describe('a job’s open pins', () => {
  const drop = (n: number, x: number): Entry => ({ kind: 'pin.dropped', body: { pin: pinId(n), spot: [x, 2], what: 'crack', bay: null } })
  const job = madeJob(slab(), bay(1, 0, 4), bay(2, 4, 8), drop(1, 7), drop(2, 1), drop(3, 4), { kind: 'pin.closed', body: { pin: pinId(3) } },
    { kind: 'pin.assigned', body: { pin: pinId(1), person: ben } })

  it('are walked without the closed ones', () => {
    expect(walkOf(job, null, new Date(MORNING), () => true)?.stops.map(({ pin }) => pin.id)).toEqual([pinId(2), pinId(1)])
    expect(walkOf(madeJob(), null, new Date(MORNING), () => true)).toBeNull()
  })

  it('are walked toward the side someone chose, and by the guess where something stands against it', () => {
    const walked = (wanted: number | null) => walkOf(job, null, new Date(MORNING), () => true, wanted)
    expect(walked(null)).toMatchObject({ exit: 1, exits: [1, 2, 3] })
    expect(walked(3)?.exit).toBe(3)
    expect(walked(3)?.stops.map(({ pin }) => pin.id)).toEqual([pinId(1), pinId(2)])
    expect(walked(0)?.exit).toBe(1) // the house
  })

  it('have their way out picked by a touch near it, never along the house', () => {
    const corners = job.slab!.corners
    const at = (x: number, y: number) => wayOutAt([x, y], { exits: [1, 2, 3] }, corners)
    expect([at(7.5, 2), at(4, 3.8), at(0.2, 2), at(6, 0.1)]).toEqual([1, 2, 3, 1])
    expect(wayOutAt([1, 1], { exits: [] }, corners)).toBeNull()
  })

  it('are counted by whose they are', () => {
    const open = job.pins.filter((pin) => pin.open)
    expect(shares(open, ana)).toEqual([{ whose: 'all', count: 2 }, { whose: 'mine', count: 0 }, { whose: 'free', count: 1 }, { whose: ben, count: 1 }])
    expect(open.filter((pin) => isWhose(pin, 'mine', ben)).map(({ id }) => id)).toEqual([pinId(1)])
  })
})
