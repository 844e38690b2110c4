// What the mix form holds and writes, and the trade's words for it.
import { beforeAll, describe, expect, it } from 'vitest'
import { dosed, mixBody, mixDraft, turned } from '../../../pwa/src/page/phases/layout/mix'
import { doseWords, paceWords, recipeWords } from '../../../pwa/src/page/phases/layout/mix-words'
import { slabBody, slabDraft } from '../../../pwa/src/page/phases/layout/state'
import { language } from '../../../pwa/src/page/shell/preferences'
import { loadWords } from '../../../pwa/src/page/words'

beforeAll(async () => {
  await loadWords('en')
  await loadWords('es')
})

const named = { ...mixDraft(null), name: ' Sand 4000 ' }

describe('the mix as it is kept', () => {
  it('is refused without a name, and with no cement left', () => {
    expect(mixBody(mixDraft(null))).toEqual({ fault: 'nameless' })
    expect(mixBody({ ...named, fly_ash_fraction: 0.3, slag_fraction: 0.6 })).toEqual({ fault: 'tooMuch' })
  })

  it('keeps what was not told as not told', () => {
    const made = mixBody(named)
    expect(made).toMatchObject({ body: { name: 'Sand 4000', cement_type: null, fly_ash_class: null, admixtures: null, drum_limit_min: null } })
  })

  it('names the class of ash where there is ash, and no class where there is none', () => {
    expect(mixBody({ ...named, fly_ash_fraction: 0.2 })).toMatchObject({ body: { fly_ash_class: 'F' } })
    expect(mixBody({ ...named, fly_ash_fraction: 0, fly_ash_class: 'C' })).toMatchObject({ body: { fly_ash_class: null } })
  })

  it('keeps a mix told before through the form unchanged', () => {
    const kept = { ...named, name: 'M', cement_type: 'IL', fly_ash_fraction: 0.2, fly_ash_class: 'C', admixtures: [{ type: 'D', dose: 0.7 }], plant: 'North' } as const
    expect(mixBody(mixDraft(kept))).toEqual({ body: kept })
  })
})

describe('admixtures', () => {
  it('go on at the usual dose in the order of their letters, and off again', () => {
    const rows = turned(turned([], 'D'), 'A')
    expect(rows).toEqual([{ type: 'A', dose: 1 }, { type: 'D', dose: 1 }])
    expect(turned(dosed(rows, 'D', 0.5), 'A')).toEqual([{ type: 'D', dose: 0.5 }])
  })

  it('are said with their dose where it is not the usual one', () => {
    expect(doseWords({ type: 'B', dose: 1 })).toBe('Retarder (B)')
    expect(doseWords({ type: 'B', dose: 0.5 })).toBe('Retarder (B), half dose')
    expect(doseWords({ type: 'B', dose: 0.7 })).toBe('Retarder (B), ×0.7 dose')
  })
})

describe('the mix in words', () => {
  it('has its pace in both languages', () => {
    expect(paceWords({ admixtures: [{ type: 'B', dose: 1 }] })).toBe('Slow mix: sets about 40 % later than the usual mix.')
    expect(paceWords({})).toBe('Usual mix: sets about when most do.')
    language.value = 'es'
    expect(paceWords({ cement_type: 'III' })).toBe('Mezcla rápida: fragua cerca de 30 % antes que la normal.')
    language.value = 'en'
  })

  it('says what is in it, and nothing where nothing was told', () => {
    expect(recipeWords({ cement_type: 'IL', fly_ash_fraction: 0.2, fly_ash_class: 'C', admixtures: [{ type: 'A', dose: 2 }] })).toBe('Type IL (limestone), 20 % fly ash, class C, Water reducer (A), double dose')
    expect(recipeWords(mixDraft(null))).toBe('')
  })
})

it('a slab keeps its shade, its base and which side is cast bonded through the form', () => {
  const kept = {
    corners: [[0, 0], [4, 0], [4, 3], [0, 3]], thickness_m: 0.1, insulation_r_m2k_w: 0, ground_temp_c: 15, solar_absorptivity: 0.7, uncut_length_m: null,
    abutting: [{ edge: 1, against: 'Old walk', bonded: true }], shade: 0.3, base_friction: 0.5,
  } as const
  expect(slabBody(slabDraft(kept))).toEqual(kept)
})
