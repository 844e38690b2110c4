import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { area, contains, crossingSides, labelPoint, roomAt, type Point, type Ring } from '../../../pwa/src/page/plan/geometry'
import { keepSide, longDirection, opposite, splitByWeight } from '../../../pwa/src/page/plan/split'

const square: Ring = [[0, 0], [4, 0], [4, 4], [0, 4]]
/** A U, open at the top: a level cut through its arms leaves two pieces. */
const uShape: Ring = [[0, 0], [6, 0], [6, 5], [4, 5], [4, 1], [2, 1], [2, 5], [0, 5]]
const total = (pieces: readonly Ring[]): number => pieces.reduce((sum, piece) => sum + area(piece), 0)

/** A star-shaped ring: corners at rising angles round the origin, so it never crosses itself. */
const anyRing = fc.array(fc.double({ min: 1, max: 12, noNaN: true }), { minLength: 5, maxLength: 14 }).map((radii): Ring =>
  radii.map((r, i): Point => [r * Math.cos((2 * Math.PI * i) / radii.length), r * Math.sin((2 * Math.PI * i) / radii.length)]),
)
const anyPlane = fc.record({ angle: fc.double({ min: 0, max: 6.28, noNaN: true }), offset_m: fc.double({ min: -12, max: 12, noNaN: true }) })
  .map(({ angle, offset_m }) => ({ normal: [Math.cos(angle), Math.sin(angle)] as Point, offset_m }))

describe('cutting a ring by a line', () => {
  it('keeps the half on the side of the normal', () => {
    const [piece, ...others] = keepSide(square, { normal: [1, 0], offset_m: 3 })
    expect(others).toEqual([])
    expect(area(piece ?? [])).toBeCloseTo(4, 9)
  })

  it('gives separate pieces, not one with a bridge, where a re-entrant ring falls apart', () => {
    const arms = keepSide(uShape, { normal: [0, 1], offset_m: 3 })
    expect(arms).toHaveLength(2)
    expect(arms.map(area).sort()).toEqual([4, 4])
    expect(arms.every((arm) => crossingSides(arm) === undefined)).toBe(true)
  })

  it('keeps the base of a comb in one simple piece, however many teeth the line cuts', () => {
    const comb: Ring = [[0, 0], [7, 0], [7, 5], [6, 5], [6, 1], [5, 1], [5, 5], [4, 5], [4, 1], [3, 1], [3, 5], [2, 5], [2, 1], [1, 1], [1, 5], [0, 5]]
    const [base, ...others] = keepSide(comb, { normal: [0, -1], offset_m: -3 })
    expect(others).toEqual([])
    expect(area(base ?? [])).toBeCloseTo(7 + 4 * 2, 9)
    expect(crossingSides(base ?? [])).toBeUndefined()
  })

  it('drops nothing when the line only touches a side', () => {
    expect(total(keepSide(square, { normal: [1, 0], offset_m: 0 }))).toBe(16)
    expect(keepSide(square, { normal: [1, 0], offset_m: 4 })).toEqual([])
  })

  it('loses and doubles no area, whatever ring and line', () => {
    fc.assert(fc.property(anyRing, anyPlane, (ring, plane) => {
      const both = total(keepSide(ring, plane)) + total(keepSide(ring, opposite(plane)))
      expect(Math.abs(both - area(ring))).toBeLessThan(1e-4)
    }), { numRuns: 300 })
  })

  it('yields only simple rings', () => {
    fc.assert(fc.property(anyRing, anyPlane, (ring, plane) => {
      for (const piece of keepSide(ring, plane)) if (area(piece) > 1e-3) expect(crossingSides(piece)).toBeUndefined()
    }), { numRuns: 300 })
  })
})

describe('bays by share', () => {
  it('cuts equal areas across the long direction', () => {
    const room: Ring = [[0, 0], [9, 0], [9, 3], [0, 3]]
    const strips = splitByWeight(room, [1, 1, 1], longDirection(room).direction)
    expect(strips.map(total).map((a) => Math.round(a * 1e6) / 1e6)).toEqual([9, 9, 9])
    expect(strips.every(([strip]) => strip && longDirection(strip).length_m < 3.0001)).toBe(true)
  })

  it('follows the volumes of unequal loads', () => {
    const strips = splitByWeight(uShape, [2, 1, 1], [1, 0])
    const shares = strips.map((strip) => total(strip) / area(uShape))
    for (const [i, share] of [0.5, 0.25, 0.25].entries()) expect(shares[i]).toBeCloseTo(share, 6)
  })

  it('keeps every share of any ring', () => {
    fc.assert(fc.property(anyRing, fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 1, maxLength: 5 }), (ring, weights) => {
      const strips = splitByWeight(ring, weights, longDirection(ring).direction)
      const sum = weights.reduce((s, w) => s + w, 0)
      strips.forEach((strip, i) => expect(total(strip)).toBeCloseTo((area(ring) * (weights[i] ?? 0)) / sum, 3))
    }), { numRuns: 100 })
  })

  it('refuses a share of nothing', () => {
    expect(() => splitByWeight(square, [1, 0], [1, 0])).toThrow(/above zero/)
  })
})

it('puts a label inside the bay even when the centre lies outside it', () => {
  expect(contains(uShape, labelPoint(uShape))).toBe(true)
  fc.assert(fc.property(anyRing, (ring) => { expect(contains(ring, labelPoint(ring))).toBe(true) }), { numRuns: 200 })
})

it('knows how wide a bay is at a point, for a word to stand in it', () => {
  expect(roomAt(square, [2, 2])).toBe(4)
  expect(roomAt(square, [1, 2])).toBe(2)
  expect(roomAt(uShape, [1, 4])).toBe(2)
  expect(roomAt(square, [9, 2])).toBe(0)
})
