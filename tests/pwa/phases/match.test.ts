import { afterEach, describe, expect, it } from 'vitest'
import { airNow, drumLimit, drumOf, placingPace } from '../../../pwa/src/page/phases/pour/drum'
import { matchWords, type Against, type KnownLoad, type MatchMix } from '../../../pwa/src/page/phases/pour/match'
import { sayMatch } from '../../../pwa/src/page/phases/pour/match-words'
import { language, units } from '../../../pwa/src/page/shell/preferences'
import { at, madeJob, MORNING, placed, ticket } from './made-job'

const now = new Date(MORNING)
const load = (number: number, more: Partial<KnownLoad> = {}): KnownLoad => ({
  id: `l${number}`, number, batched_at: at(-20), volume_m3: 5, slump_mm: 100, concrete_temp_c: 24, water_added_l: null, water_allowed_l: null,
  colour_bags: null, plant: null, admixtures: null, placed: null, ...more,
})
const mix: MatchMix = { cement_kg_m3: 340, w_cm: 0.45, plant: null, admixtures: null, slump_allowance_mm: null, drum_limit_min: null }
const said = (second: Partial<KnownLoad>, one: Partial<KnownLoad> = {}, more: Partial<Against> = {}) => {
  const mine = load(2, second)
  return matchWords(mine, { loads: [load(1, { placed: { from: at(-15), to: at(-5) }, ...one }), mine], mix, order: null, air_c: null, now, ...more })
}
const codes = (...given: Parameters<typeof said>): string[] => said(...given).map((word) => word.code)

afterEach(() => {
  language.value = 'en'
  units.value = 'us'
})

describe('a load is held against load 1', () => {
  it('and nothing is said while it matches', () => {
    expect(codes({})).toEqual([])
  })

  it.each([[125, []], [126, ['slump_wetter']], [75, []], [74, ['slump_stiffer']]] as const)('by its slump: %d mm against 100 says %j', (slump_mm, expected) => {
    expect(codes({ slump_mm })).toEqual(expected)
  })

  it('by the mix’s own allowance where it has one', () => {
    expect(codes({ slump_mm: 120 }, {}, { mix: { ...mix, slump_allowance_mm: 12 } })).toEqual(['slump_wetter'])
    expect(codes({ slump_mm: 140 }, {}, { mix: { ...mix, slump_allowance_mm: 50 } })).toEqual([])
  })

  it('holds the wetter one and only asks about the stiffer one', () => {
    expect(said({ slump_mm: 150 })[0]).toMatchObject({ tone: 'hold', here: 150, there: 100, other: 1 })
    expect(said({ slump_mm: 50 })[0]).toMatchObject({ tone: 'ask' })
  })

  it('by its temperature, past 10 °F', () => {
    expect(codes({ concrete_temp_c: 29.5 })).toEqual([])
    expect(said({ concrete_temp_c: 29.7 })).toMatchObject([{ code: 'temp_apart', tone: 'know' }])
  })

  it('by the water put in to the cubic metre, none written down counting as none', () => {
    expect(codes({ water_added_l: 20, water_allowed_l: 40 })).toEqual(['water_apart'])
    expect(codes({ water_added_l: 20, water_allowed_l: 40 }, { water_added_l: 20 })).toEqual([])
    expect(codes({ water_added_l: 0 }, { water_added_l: 30 })).toEqual(['water_apart'])
  })

  it('by its colour to the cubic metre', () => {
    expect(codes({ colour_bags: 10 }, { colour_bags: 10 })).toEqual([])
    expect(said({ colour_bags: 9 }, { colour_bags: 10 })).toMatchObject([{ code: 'colour_short', tone: 'hold', here: 9, there: 10 }])
    expect(codes({ colour_bags: 11 }, { colour_bags: 10 })).toEqual(['colour_over'])
    expect(codes({ colour_bags: 5, volume_m3: 2.5 }, { colour_bags: 10 })).toEqual([])
    expect(codes({}, { colour_bags: 10 })).toEqual(['colour_unsaid'])
  })

  it('says nothing of a colour not typed yet', () => {
    const { id: _, ...typed } = load(2)
    expect(matchWords(typed, { loads: [load(1, { colour_bags: 10 })], mix, order: null, air_c: null, now })).toEqual([])
  })

  it('by its plant, however it is spelled, empty meaning the mix’s', () => {
    expect(codes({ plant: ' north  plant' }, { plant: 'North Plant' })).toEqual([])
    expect(said({ plant: 'South' }, { plant: 'North' })).toMatchObject([{ code: 'plant_apart', tone: 'hold', names: ['South', 'North'], other: 1 }])
    const word = said({ plant: 'South' }, {}, { mix: { ...mix, plant: 'North' } })
    expect(word).toMatchObject([{ code: 'plant_apart', names: ['South', 'North'] }])
    expect(codes({}, {}, { mix: { ...mix, plant: 'North' } })).toEqual([])
  })

  it('by its admixtures and their doses, whatever their order', () => {
    const [a, d] = [{ type: 'A', dose: 1 }, { type: 'D', dose: 0.5 }] as const
    expect(codes({ admixtures: [a, d] }, { admixtures: [d, a] })).toEqual([])
    expect(codes({ admixtures: [a] }, { admixtures: [a, d] })).toEqual(['admixtures_apart'])
    expect(codes({ admixtures: [{ type: 'D', dose: 1 }] }, {}, { mix: { ...mix, admixtures: [d] } })).toEqual(['admixtures_apart'])
  })

  it('and never against a load that came after it', () => {
    const mine = load(1, { slump_mm: 150 })
    expect(matchWords(mine, { loads: [mine, load(2)], mix, order: null, air_c: null, now })).toEqual([])
  })

  it('no more once all of it is down', () => {
    expect(codes({ slump_mm: 200, placed: { from: at(-9), to: at(-1) } })).toEqual([])
    expect(codes({ slump_mm: 200, placed: { from: at(-9), to: at(-9) } })).toEqual(['slump_wetter'])
  })
})

describe('a load is held against the order, the ticket and the limits', () => {
  it('by the slump ordered, load 1 too', () => {
    const mine = load(1, { slump_mm: 150 })
    expect(matchWords(mine, { loads: [mine], mix, order: { slump_mm: 100 }, air_c: null, now })).toMatchObject([{ code: 'slump_over_order', tone: 'hold' }])
    expect(codes({ slump_mm: 60 }, { slump_mm: 60 }, { order: { slump_mm: 100 } })).toEqual(['slump_under_order'])
    expect(codes({ slump_mm: 150 }, {}, { order: { slump_mm: 100 } })).toEqual(['slump_wetter'])
  })

  it('by the water its ticket allows, with the w/cm it comes to', () => {
    expect(codes({ water_added_l: 10, water_allowed_l: 10 })).toEqual([])
    const [word] = said({ water_added_l: 27, water_allowed_l: 10 }, { water_added_l: 27 })
    expect(word).toMatchObject({ code: 'water_past', tone: 'hold', here: 27, there: 10 })
    expect(word?.w_cm).toBeCloseTo(0.45 + 17 / 5 / 340, 9)
  })

  it('by asking for the allowance when water went in without one', () => {
    expect(said({ water_added_l: 10 })[0]).toMatchObject({ code: 'water_unsaid', tone: 'ask' })
  })

  it('by heat and cold at discharge (95 °F, ACI 305.1; 55 °F, ACI 306)', () => {
    expect(said({ concrete_temp_c: 35.1 })[0]).toMatchObject({ code: 'hot', tone: 'hold' })
    expect(codes({ concrete_temp_c: 35 }, { concrete_temp_c: 34 })).toEqual([])
    expect(codes({ concrete_temp_c: 12.6 }, { concrete_temp_c: 13 })).toEqual(['cold'])
    expect(codes({ concrete_temp_c: (55 - 32) / 1.8 }, { concrete_temp_c: 13 })).toEqual([])
  })

  it('the gravest first', () => {
    expect(codes({ concrete_temp_c: 36, slump_mm: 50, batched_at: at(-95) })).toEqual(['drum_past', 'hot', 'slump_stiffer'])
  })
})

describe('the drum', () => {
  it.each([[null, null, 90], [null, 29, 90], [null, 30, 75], [null, 33, 60], [120, 35, 120]] as const)('set to %s, in air of %s °C, has %d min', (set, air, limit) => {
    expect(drumLimit(set, air).limit_min).toBe(limit)
  })

  it('is late once its time is over, and asked about when it will be before it is empty', () => {
    expect(said({ batched_at: at(-91) })[0]).toMatchObject({ code: 'drum_past', tone: 'hold' })
    expect(said({ batched_at: at(-85) })[0]).toMatchObject({ code: 'drum_short', tone: 'ask' })
    expect(codes({ batched_at: at(-65) })).toEqual([])
  })

  it('empties at the pace of the loads before, at least ten minutes', () => {
    const loads = madeJob(ticket(1, { volume_m3: 4 }), placed(1, 0, 20)).loads
    expect(placingPace(loads)).toBeCloseTo(5, 9)
    expect(placingPace([])).toBe(4)
    const drum = (volume_m3: number) => drumOf({ batched_at: at(-30), volume_m3 }, drumLimit(null, null), 5, now)
    expect(drum(6).empty).toEqual(new Date(at(30)))
    expect(drum(0.5).empty).toEqual(new Date(at(10)))
    expect(drum(6).by).toEqual(new Date(at(60)))
  })

  it('counts from when placing began', () => {
    expect(drumOf({ batched_at: at(-30), volume_m3: 6, placed: { from: at(-10), to: at(-10) } }, drumLimit(null, null), 5, now).empty).toEqual(new Date(at(20)))
  })

  it('feels only air read in the last three hours', () => {
    const read = (minutes: number, air_temp_c: number | null) => ({ at: at(minutes), air_temp_c })
    expect(airNow([read(-30, 31), read(-10, null)], now)).toBe(31)
    expect(airNow([read(-200, 34)], now)).toBeNull()
  })
})

describe('match words', () => {
  const job = madeJob({ kind: 'mix.chosen', body: { name: 'M', cement_kg_m3: 340, w_cm: 0.45, design_strength_mpa: 28, aggregate: 'crushed-hard' } })
  const cases: [Partial<KnownLoad>, Partial<KnownLoad>, Partial<Against>][] = [
    [{ slump_mm: 152.4 }, { slump_mm: 101.6 }, {}], [{ slump_mm: 50 }, {}, {}], [{ slump_mm: 150 }, { slump_mm: 150 }, { order: { slump_mm: 100 } }], [{ slump_mm: 50 }, { slump_mm: 50 }, { order: { slump_mm: 100 } }],
    [{ batched_at: at(-100) }, {}, {}], [{ batched_at: at(-85) }, {}, {}], [{ water_added_l: 40, water_allowed_l: 10 }, { water_added_l: 40 }, {}], [{ water_added_l: 40 }, { water_added_l: 40 }, {}],
    [{ water_added_l: 30, water_allowed_l: 40 }, {}, {}], [{ concrete_temp_c: 36.5 }, {}, {}], [{ concrete_temp_c: 10 }, {}, {}], [{ concrete_temp_c: 31 }, {}, {}], [{ concrete_temp_c: 16 }, {}, {}],
    [{ colour_bags: 4 }, { colour_bags: 6 }, {}], [{ colour_bags: 8 }, { colour_bags: 6 }, {}], [{}, { colour_bags: 6 }, {}], [{ plant: 'South' }, { plant: 'North' }, {}], [{ plant: 'South' }, {}, { mix: { ...mix, plant: 'North' } }],
    [{ admixtures: [{ type: 'D', dose: 1.5 }] }, { admixtures: [] }, {}],
  ]

  it.each(['en', 'es'] as const)('are whole sentences for every rule in %s, in either units', (spoken) => {
    language.value = spoken
    for (const system of ['us', 'metric'] as const) {
      units.value = system
      const found = cases.flatMap((one) => said(...one))
      expect(new Set(found.map((word) => word.code)).size).toBe(17)
      for (const word of found) {
        const { title, todo } = sayMatch(word, job)
        expect(title, word.code).toMatch(/^[^{}]{8,}$/)
        expect(todo, word.code).toMatch(/^[^{}]{8,}\.$/)
        expect(`${title} ${todo}`, word.code).not.toMatch(/undefined|null|NaN|pour\.|\s,|: ;/)
      }
    }
  })

  it('read as people say it', () => {
    const [word] = said({ slump_mm: 152.4 }, { slump_mm: 101.6 })
    expect(word && sayMatch(word, job).title.replaceAll('\u00a0', ' ')).toBe('Slump 6 in, load 1 was 4 in')
    const [warm] = said({ concrete_temp_c: 31 }, { concrete_temp_c: 24 })
    expect(warm && sayMatch(warm, job).title.replaceAll('\u00a0', ' ')).toBe('13 °F warmer than load 1')
  })
})
