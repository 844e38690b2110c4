import { describe, expect, test } from 'vitest'
import type { Spot } from '../../../pwa/src/shared/events'
import { area_m2, perimeter_m } from '../../../pwa/src/shared/polygon'
import { belowPlane_m, fallAwayPercent, fitPlane, type Shot } from '../../../pwa/src/shared/slope'
import { readVectors } from './vectors'

interface Case {
  readonly name: string
  readonly shots: readonly Shot[]
  readonly expect: null | { readonly fall_percent: number; readonly direction_deg: number | null; readonly below_m: readonly number[] }
  readonly corners?: readonly Spot[]
  readonly fall_away_percent?: Readonly<Record<string, number>>
}
const { cases } = readVectors<{ cases: readonly Case[] }>('slope')

describe('the plane is what the vector says, as on the server', () => {
  test.each(cases)('$name', ({ shots, expect: wanted, corners = [], fall_away_percent = {} }) => {
    const plane = fitPlane(shots)
    if (wanted === null || plane === null) {
      expect(plane).toBe(wanted)
      return
    }
    expect(plane.fall_percent).toBeCloseTo(wanted.fall_percent, 9)
    if (wanted.direction_deg === null) expect(plane.direction_deg).toBeNull()
    else expect(plane.direction_deg).toBeCloseTo(wanted.direction_deg, 6)
    shots.forEach((shot, index) => expect(belowPlane_m(plane, shot)).toBeCloseTo(wanted.below_m[index] ?? NaN, 9))
    for (const [edge, fall] of Object.entries(fall_away_percent)) {
      expect(fallAwayPercent(plane, corners, Number(edge))).toBeCloseTo(fall, 9)
    }
  })
})

test('area and perimeter do not depend on the direction walked', () => {
  const corners: readonly Spot[] = [[10, 10], [13, 10], [10, 14]]
  for (const outline of [corners, corners.toReversed()]) expect([area_m2(outline), perimeter_m(outline)]).toEqual([6, 12])
  expect([area_m2([]), perimeter_m([])]).toEqual([0, 0])
})
