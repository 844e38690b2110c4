// @vitest-environment happy-dom
import { render } from 'preact'
import { act } from 'preact/test-utils'
import { afterEach, beforeAll, describe, expect, it } from 'vitest'
import { addressOf, ANY, type ErrorPoint, type KnownPace, type Measured, type Stat } from '../../../pwa/src/page/office/lookback/contract'
import { priorOf } from '../../../pwa/src/page/office/lookback/known'
import { marksFor, rangeOf, shareOf, stack } from '../../../pwa/src/page/office/lookback/scale'
import { sayCallbacks, sayKnown, sayMeasured, sayOff, sayWaste } from '../../../pwa/src/page/office/lookback/say'
import { SeriesPlot } from '../../../pwa/src/page/office/lookback/series-plot'
import { StripPlot } from '../../../pwa/src/page/office/lookback/strip-plot'
import { sayTaught } from '../../../pwa/src/page/office/lookback/taught-part'
import { loadWords } from '../../../pwa/src/page/words'

beforeAll(() => loadWords('en'))

const root = document.createElement('div')
const drawn = async (what: Parameters<typeof render>[0]): Promise<SVGSVGElement> => {
  await act(() => render(what, root))
  return root.querySelector('svg') as SVGSVGElement
}
afterEach(() => render(null, root))

const stat = (more: Partial<Stat> = {}): Stat => ({ pours: 10, few: false, values: 20, median_min: 12, low_min: -20, high_min: 40, inside: 15, in_time: 18, ...more })
const point = (n: number, error_min: number, inside = true): ErrorPoint => ({ job: `j${n}`, name: `Job ${n}`, day: '2026-07-14', load: 1, error_min, inside, afterwards: false })
const measured = (all: Stat): Measured => ({ all, by_mix: [], by_plant: [], by_month: [], points: [] })

describe('the scale', () => {
  it('has round marks that cover every value and zero', () => {
    expect(marksFor([12, 47])).toEqual([0, 10, 20, 30, 40, 50])
    expect(marksFor([-130, 20])).toEqual([-150, -100, -50, 0, 50])
    expect(marksFor([])).toHaveLength(2)
    for (const values of [[0.3], [-7, -3], [1e5, -1e5], [0]]) {
      const { low, high } = rangeOf(marksFor(values))
      expect(values.every((value) => low <= value && value <= high)).toBe(true)
      expect(low <= 0 && high >= 0).toBe(true)
    }
  })

  it('puts dots that would lie on each other above each other, and others on the line', () => {
    const range = { low: 0, high: 100 }
    const levels = stack([50, 50.5, 51, 80, 10], (value) => value, range, 0.02).map(({ item, level }) => [item, level])
    expect(Object.fromEntries(levels)).toEqual({ 10: 0, 50: 0, 50.5: 1, 51: 2, 80: 0 })
    expect(shareOf(25, range)).toBe(0.25)
  })
})

describe('the plots', () => {
  it('draw a dot for each load where its minutes fall, open outside the band', async () => {
    const svg = await drawn(<StripPlot points={[point(1, -100, false), point(2, 0), point(3, 100)]} all={stat({ median_min: 0 })} finding="f" />)
    const dots = [...svg.querySelectorAll('circle')]
    expect(dots.map((dot) => Number.parseFloat(dot.getAttribute('cx') ?? ''))).toEqual([3, 50, 97])
    expect(dots.map((dot) => dot.getAttribute('class')?.includes('open'))).toEqual([true, false, false])
    expect(svg.getAttribute('aria-label')).toBe('f')
    expect(svg.textContent).toContain('as told')
  })

  it('show no middle of too few', async () => {
    const few = await drawn(<StripPlot points={[point(1, 5)]} all={stat({ few: true })} finding="f" />)
    expect(few.querySelector('.back-middle')).toBeNull()
  })

  it('draw what was known after each pour as a band of its reach', async () => {
    const points = [{ key: 'a', value: 20, low: 10, high: 30, band: { value: 10, reach: 10 }, title: 'a' }, { key: 'b', value: 0, open: 'set aside', title: 'b' }]
    const svg = await drawn(<SeriesPlot points={points} ends={['Jul 1', 'Jul 2']} level={{ value: 0, name: 'the book' }} say={(value) => `${value} %`} finding="f" />)
    const [band] = svg.querySelectorAll('rect')
    const marks = [...svg.querySelectorAll('.back-grid')].map((line) => Number(line.getAttribute('y1')))
    expect(Math.max(...marks) - Math.min(...marks)).toBe(180)
    expect(Number(band?.getAttribute('height'))).toBeCloseTo((180 * 20) / 30)
    expect(svg.textContent).toContain('set aside')
  })
})

describe('the findings', () => {
  it('say how far off, how many inside and how many were to be expected', () => {
    expect(sayMeasured('texture_opens', measured(stat()))).toBe('The first mat went down 12 min later than the likely opening in the middle. 15 of 20 were inside the 80 % band; about 16 were to be expected.'.replace('12 min', '12\u00a0min'))
    expect(sayMeasured('texture_closes', measured(stat({ median_min: -35 })))).toContain('18 of 20 loads were done by the likely close')
  })

  it('say that few are too few, and that none are none', () => {
    expect(sayMeasured('saw_opens', measured(stat({ pours: 3, few: true })))).toBe('3 pours: too few to say')
    expect(sayMeasured('saw_opens', measured(stat({ values: 0 })))).toContain('No closed job')
    expect(sayCallbacks({ jobs: 3, few: true, jobs_called_back: 1, total: 1, per_100: 33.3, by_what: [{ what: 'crack', count: 1, per_100: 33.3 }] })).toBe('1 callback on 3 jobs: too few to say more.')
  })

  it('say what is known of a mix and how surely', () => {
    const known: KnownPace = { pours: 4, percent: 12.3, doubt_percent: 9.2 }
    expect(sayKnown('plant', known)).toBe('From 4 pours of this mix from this plant: sets about 12 % slower than the book; next pour’s doubt ±9 %.')
    expect(sayKnown('mix', { ...known, pours: 1, percent: -0.4 })).toBe('From 1 pour of this mix: sets as the book says; next pour’s doubt ±9 %.')
  })

  it('say what a pour moved, and of one set aside that it moved nothing', () => {
    const taught = { mix: 'Patio mix', plant: 'Bend', aside: null, told: { percent: 14, doubt_percent: 6 }, before: null, after: { pours: 1, percent: 9, doubt_percent: 12 }, book_doubt_percent: 20 }
    expect(sayTaught(taught)).toBe('This pour set 14 % slower than the book, ±6 %. It moved Patio mix from as the book ±20 % to 9 % slower ±12 %.')
    expect(sayTaught({ ...taught, aside: 'rain' })).toBe('This pour set 14 % slower than the book, ±6 %.')
    expect(sayTaught({ ...taught, told: null })).toContain('No check')
  })

  it('say minutes to the sooner and the later side, and volumes short as short', () => {
    expect([sayOff(-0.4), sayOff(-61), sayOff(5)].map((said) => said.replaceAll('\u00a0', ' '))).toEqual(['on the minute', '1 h 1 min sooner', '5 min later'])
    expect(sayWaste({ pours: 9, few: false, ordered_m3: 9, slab_m3: 10, over_percent: -10, points: [] })).toContain('10 % short')
  })
})

describe('what a mix being typed is known by', () => {
  const known = [
    { mix: 'Patio mix', plant: 'Bend', pours: 2, mean_log: Math.log(1.1), sd_log: 0.1 },
    { mix: 'Patio mix', plant: '', pours: 3, mean_log: Math.log(1.2), sd_log: 0.1 },
    { mix: '', plant: '', pours: 5, mean_log: Math.log(1.05), sd_log: 0.09 },
  ]
  it('is the nearest there is, less sure from further off', () => {
    const found = [['patio  MIX', 'bend'], ['Patio mix', null], ['Patio mix', 'Quarry'], ['Drive mix', 'Bend']].map(([mix, plant]) => priorOf(known, mix ?? '', plant))
    expect(found.map((prior) => [prior?.level, prior?.set_factor, prior?.set_factor_sd])).toEqual([['plant', 1.1, 0.1], ['mix', 1.2, 0.1], ['mix', 1.2, 0.1414], ['company', 1.05, 0.1664]])
    expect(priorOf([], 'Patio mix', 'Bend')).toBeNull()
  })
})

it('leaves out of the address what was not chosen', () => {
  expect(addressOf(ANY)).toBe('/api/lookback')
  expect(addressOf({ ...ANY, mix: 'Sand & lime', from: '2026-07-01' })).toBe('/api/lookback?mix=Sand+%26+lime&from=2026-07-01')
})
