import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { area, type Point, type Ring } from '../../../pwa/src/page/plan/geometry'
import {
  abuttingAfterAdd, abuttingAfterRemove, addCorner, cornersOf, judgeOutline, legsOf, moveCorner, rectangle, removeCorner, stretchSide,
} from '../../../pwa/src/page/plan/outline'
import { dimensionPlace, frameFor, nudge, scaleBar, toPlan, toScreen } from '../../../pwa/src/page/plan/view'

const lShape: Ring = [[0, 0], [6, 0], [6, 2], [3, 2], [3, 5], [0, 5]]

describe('judging an outline', () => {
  it.each<[string, Ring, string | null, number[]]>([
    ['a rectangle', rectangle(4, 3), null, []],
    ['an L', lShape, null, []],
    ['a bow tie', [[0, 0], [4, 3], [4, 0], [0, 3]], 'crosses', [1, 3]],
    ['two corners', [[0, 0], [4, 3]], 'too_few', []],
    ['a line', [[0, 0], [4, 0], [8, 0]], 'no_area', []],
    ['a doubled corner', [[0, 0], [4, 0], [4, 0], [0, 3]], 'same_corner', [2, 3]],
    ['a spike folded back on its side', [[0, 0], [6, 0], [4, 0], [4, 3]], 'crosses', [1, 2]],
    ['a slipped decimal', rectangle(365, 3), 'too_large', [1]],
  ])('of %s', (_, ring, fault, at) => {
    expect(judgeOutline(ring)).toEqual({ fault, at })
  })

  it('judges the same from whichever corner it starts and whichever way round', () => {
    fc.assert(fc.property(fc.array(fc.tuple(fc.integer({ min: 0, max: 9 }), fc.integer({ min: 0, max: 9 })), { minLength: 4, maxLength: 7 }), fc.nat(6), (ring, turnBy) => {
      const start = turnBy % ring.length
      const turned = [...ring.slice(start), ...ring.slice(0, start)]
      const usable = (r: readonly Point[]): boolean => judgeOutline(r).fault === null
      expect(usable(turned)).toBe(usable(ring))
      expect(usable([...ring].reverse())).toBe(usable(ring))
    }))
  })
})

describe('a walk round the slab', () => {
  it('comes back from corners to the same corners', () => {
    const { corners, gap_m } = cornersOf(legsOf(lShape))
    expect(gap_m).toBeLessThan(1e-9)
    expect(corners).toEqual(lShape)
  })

  it('says how far a walk misses its start', () => {
    const legs = [{ length_m: 4, turn_deg: 90 }, { length_m: 3, turn_deg: 90 }, { length_m: 4, turn_deg: 90 }, { length_m: 2.5, turn_deg: 90 }]
    expect(cornersOf(legs).gap_m).toBeCloseTo(0.5, 9)
  })
})

describe('changing corners', () => {
  it('pushes the far side out as a whole, so that square work stays square', () => {
    expect(stretchSide(rectangle(4, 3), 2, 5)).toEqual([[-1, 0], [4, 0], [4, 3], [-1, 3]])
    const longer = stretchSide(lShape, 0, 7)
    expect(judgeOutline(longer).fault).toBeNull()
    expect(legsOf(longer).map((leg) => leg.turn_deg)).toEqual(legsOf(lShape).map((leg) => leg.turn_deg))
    expect(area(longer)).toBeCloseTo(area(lShape) + 2, 9)
  })

  it('adds and takes away without changing the shape', () => {
    const added = addCorner(lShape, 1)
    expect(area(added)).toBe(area(lShape))
    expect(removeCorner(added, 2)).toEqual(lShape)
  })

  it('never goes below three corners', () => {
    expect(removeCorner([[0, 0], [1, 0], [0, 1]], 1)).toHaveLength(3)
  })

  it('leaves the drawn outline untouched', () => {
    const before = structuredClone(lShape)
    moveCorner(lShape, 0, [1, 1])
    expect(lShape).toEqual(before)
  })

  it('carries the faces that abut along with their sides', () => {
    const faces = [{ edge: 0, against: 'house' }, { edge: 3, against: 'step' }]
    expect(abuttingAfterAdd(faces, 0)).toEqual([
      { edge: 0, against: 'house' }, { edge: 1, against: 'house' }, { edge: 4, against: 'step' },
    ])
    expect(abuttingAfterRemove(abuttingAfterAdd(faces, 0), 1, 7)).toEqual(faces)
    expect(abuttingAfterRemove([{ edge: 0, against: 'house' }], 0, 4)).toEqual([{ edge: 2, against: 'house' }])
  })
})

describe('the drawing', () => {
  const frame = frameFor(lShape, 360, 300, 40)

  it('keeps true scale and everything inside the margins', () => {
    for (const corner of lShape) {
      const [x, y] = toScreen(frame, corner)
      expect(x).toBeGreaterThanOrEqual(39.99)
      expect(x).toBeLessThanOrEqual(320.01)
      expect(y).toBeGreaterThanOrEqual(39.99)
      expect(y).toBeLessThanOrEqual(frame.height - 39.99)
    }
  })

  it('finds the spot under the finger to the centimetre', () => {
    fc.assert(fc.property(fc.double({ min: 0, max: 6, noNaN: true }), fc.double({ min: 0, max: 5, noNaN: true }), (x, y) => {
      const [backX, backY] = toPlan(frame, toScreen(frame, [x, y]))
      expect(Math.hypot(backX - x, backY - y)).toBeLessThan(0.0075)
    }))
  })

  it('draws a scale bar of a round length in the unit of the person', () => {
    expect(scaleBar(frame, 'us', 120)).toMatchObject({ value: 5, unit: 'ft' })
    expect(scaleBar(frame, 'metric', 120)).toMatchObject({ value: 2, unit: 'm' })
    expect(scaleBar(frame, 'us', 120).length).toBeLessThanOrEqual(120)
  })

  it('writes a dimension outside the slab and never upside down', () => {
    lShape.forEach((a, i) => {
      const b = lShape[(i + 1) % lShape.length] ?? a
      const { at, angle_deg } = dimensionPlace(frame, a, b, true, 10)
      expect(Math.abs(angle_deg)).toBeLessThanOrEqual(90)
      const mirrored = dimensionPlace(frame, b, a, false, 10)
      expect(mirrored.at[0]).toBeCloseTo(at[0], 6)
      const [x, y] = toPlan(frame, at)
      const inside = x > 0.05 && y > 0.05 && ((x < 5.95 && y < 1.95) || (x < 2.95 && y < 4.95))
      expect(inside).toBe(false)
    })
  })

  it('moves a spot by arrow key and leaves other keys alone', () => {
    expect(nudge([1, 1], 'ArrowUp', 'metric', false)).toEqual([1, 1.25])
    expect(nudge([1, 1], 'ArrowLeft', 'us', false)).toEqual([0.695, 1])
    expect(nudge([1, 1], 'Enter', 'us', false)).toBeUndefined()
  })
})
