import { expect, test } from 'vitest'
import { mixPace, type MixPace, type Recipe } from '../../../pwa/src/shared/mix-pace'
import { readVectors } from './vectors'

const { cases } = readVectors<{ cases: readonly (MixPace & { readonly mix: Recipe })[] }>('mix_pace')

test.each(cases.map((one) => [JSON.stringify(one.mix), one] as const))('%s sets as the engine says', (_, { mix, pace, percent }) => {
  expect(mixPace(mix)).toEqual({ pace, percent })
})

test('what was left out with null counts as left out', () => {
  expect(mixPace({ cement_type: null, fly_ash_fraction: null, fly_ash_class: null, slag_fraction: null, admixtures: null, set_factor: null })).toEqual(mixPace({}))
})
