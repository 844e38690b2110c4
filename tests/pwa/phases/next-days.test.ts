// The next days' own sums: cuts proposed and ordered, hours by day, reasons in words, label before practice.
import { beforeEach, describe, expect, it } from 'vitest'
import { proposeCuts, chords, cutLines, nextOrder, panels, swapped } from '../../../pwa/src/page/phases/next-days/cuts'
import { dayRows, recoat } from '../../../pwa/src/page/phases/next-days/days'
import { faultOf } from '../../../pwa/src/page/phases/next-days/product'
import { labelSealer_l, readSaw, tryAgainAt } from '../../../pwa/src/page/phases/next-days/state'
import { sayFor, sayWhy, shortWhy } from '../../../pwa/src/page/phases/next-days/why'
import { units } from '../../../pwa/src/page/shell/preferences'
import type { CutId } from '../../../pwa/src/shared/events'
import { at, bay, loadId, madeJob, MORNING, placed, slab, ticket, type Entry } from './made-job'

const cutId = (n: number): CutId => `00000000-0000-7000-8000-00000000c${String(n).padStart(3, '0')}` as CutId
const planned = (n: number, order: number, x: number): Entry => ({ kind: 'cut.planned', body: { cut: cutId(n), from: [x, 0], to: [x, 4], order } })
const opened: Entry = { kind: 'job.opened', body: { name: 'Birch', time_zone: 'America/Chicago', use: 'patio', latitude_deg: 41, longitude_deg: -87 } }

beforeEach(() => {
  units.value = 'metric'
})

describe('cuts proposed', () => {
  it('part the slab into panels near square, none over the spacing', () => {
    for (const [long, wide, thick] of [[8, 4, 0.1], [20, 3, 0.1], [12, 9, 0.125], [30, 1.2, 0.1]] as const) {
      const [n, m] = panels(long, wide, thick)
      expect(long / n).toBeLessThanOrEqual(30 * thick + 1e-9)
      expect(wide / m).toBeLessThanOrEqual(30 * thick + 1e-9)
      expect(long / n / (wide / m)).toBeLessThanOrEqual(1.5 + 1e-9)
    }
    expect(panels(2.5, 2.5, 0.1)).toEqual([1, 1])
  })

  it('run across the long way first, then along it', () => {
    const cuts = proposeCuts(madeJob(slab()))
    expect(cuts.map((cut) => cut.way)).toEqual(['across', 'across', 'along'])
    expect(cuts.slice(0, 2).map((cut) => cut.from[0])).toEqual([2.667, 5.333])
  })

  it('begin on the oldest concrete', () => {
    const job = madeJob(slab(), bay(1, 0, 4, loadId(1)), bay(2, 4, 8, loadId(2)), ticket(1), ticket(2), placed(2, -90, -60), placed(1, 0, 20))
    expect(proposeCuts(job).filter((cut) => cut.way === 'across').map((cut) => cut.from[0])).toEqual([5.333, 2.667])
  })

  it('keep to the slab where it is not a rectangle', () => {
    const u = [[0, 0], [9, 0], [9, 6], [6, 6], [6, 3], [3, 3], [3, 6], [0, 6]] as const
    const found = chords(u, [0, 1], 4.5)
    expect(found.map((one) => Math.hypot(one.to[0] - one.from[0], one.to[1] - one.from[1]))).toEqual([3, 3])
    expect(chords(u, [0, 1], 7)).toEqual([])
  })
})

describe('cuts planned', () => {
  const job = madeJob(slab(), planned(1, 1, 2), planned(2, 2, 4), planned(3, 3, 6), { kind: 'cut.made', body: { length_m: 4, saw: 'conventional', cut: cutId(2) } })

  it('stand in order, each beside what the engine says, ticked by its cut', () => {
    const ahead = { id: cutId(3), length_m: 4, minutes: 4, opens: null, closes: null, start_by: null, starts: null, ends: null, late: true, made_at: null }
    const plan = { kind: 'conventional', rate_m_per_min: 1, left_m: 8, minutes_left: 8, opens: null, start_by: null, short_from: cutId(3), saws: 2, test: null, cuts: [ahead] }
    expect(cutLines(job, plan).map((line) => [line.number, line.made !== null, line.ahead?.late ?? null])).toEqual([[1, false, null], [2, true, null], [3, false, true]])
  })

  it('change places with a neighbour and not past the ends', () => {
    expect(swapped(job.planned_cuts, cutId(2), -1)?.map((cut) => cut.id)).toEqual([cutId(2), cutId(1)])
    expect(swapped(job.planned_cuts, cutId(3), 1)).toBeNull()
    expect(nextOrder(job.planned_cuts)).toBe(4)
    expect(nextOrder([])).toBe(1)
  })

  it('say how much there is to saw', () => {
    expect(readSaw(job)).toMatchObject({ planned_m: 12, cut_m: 4, left_m: 8 })
  })

  it('wait as long as the test cut asks', () => {
    const after = (result: 'clean' | 'slight' | 'ravels') => tryAgainAt({ result, at: at(0) })?.toISOString() ?? null
    expect([after('clean'), after('slight'), after('ravels')]).toEqual([null, at(25), at(60)])
  })
})

describe('hours by day', () => {
  const zone = 'America/Chicago'
  const days = { from: at(0), to: at(60 * 48) }
  const dark = { from: at(60 * 12), to: at(60 * 24), why: [{ code: 'dark' }] }
  const damp = { from: at(0), to: at(120), why: [{ code: 'damp', of: 'wash', at: at(120) }] }

  it('fall into local days, fit and out, with nothing left over', () => {
    const rows = dayRows(days, { hours_out: [damp, dark] }, new Date(MORNING), zone)
    expect(rows.map((row) => row.day)).toEqual(['2026-07-14', '2026-07-15', '2026-07-16'])
    expect(rows[0]?.spans.map((span) => [span.from.toISOString(), span.out?.why[0]?.code ?? 'fit'])).toEqual([[at(0), 'damp'], [at(120), 'fit'], [at(720), 'dark']])
    expect(rows.map((row) => row.fit_h)).toEqual([10, 17, 7])
    for (const row of rows) for (const [i, span] of row.spans.entries()) expect(row.spans[i + 1]?.from ?? span.to).toEqual(span.to)
  })

  it('begin at the present, and keep 24 h and 25 h on the day clocks go back', () => {
    const rows = dayRows(days, { hours_out: [damp] }, new Date(MORNING + 3_600_000), zone)
    expect(rows[0]?.spans[0]?.from.toISOString()).toBe(at(60))
    const autumn = dayRows({ from: '2026-10-31T12:00:00Z', to: '2026-11-02T12:00:00Z' }, { hours_out: [] }, new Date('2026-10-31T12:00:00Z'), zone)
    expect((autumn[1]!.ends.getTime() - autumn[1]!.starts.getTime()) / 3_600_000).toBe(25)
  })

  it('count down to the next coat and say by when it must be on', () => {
    const after = { work: 'seal', coat: 1, at: at(0), done: true } as const
    expect(recoat({ after, opens: at(90), shuts: at(600) }, new Date(MORNING))).toEqual({ from: new Date(at(90)), minutes: 90, by: new Date(at(600)) })
    expect(recoat({ after, opens: at(-5), shuts: null }, new Date(MORNING))).toMatchObject({ minutes: null, by: null })
    expect(recoat({ after: { ...after, done: false }, opens: at(90), shuts: null }, new Date(MORNING))).toBeNull()
  })
})

describe('reasons', () => {
  const job = madeJob(opened)

  it('are told with their numbers in the person’s units', () => {
    expect(sayWhy({ code: 'near_dew', value: 1.5, limit: 3 }, job)).toContain('2\u00a0°C over the dew point')
    units.value = 'us'
    expect(sayWhy({ code: 'near_dew', value: 1.5, limit: 3 }, job)).toContain('3\u00a0°F over the dew point')
    expect(sayWhy({ code: 'wind', value: 32.2, limit: 20 }, job)).toContain('20\u00a0mph')
  })

  it('leave no slot unfilled, whatever the code', () => {
    const codes = ['too_green', 'not_yet', 'recoat_early', 'recoat_late', 'rain', 'rain_before', 'rain_after', 'damp', 'near_dew', 'surface_cold', 'surface_hot', 'air_cold', 'air_hot', 'wind', 'dark', 'short', 'hail_of_frogs']
    for (const code of codes) {
      for (const why of [{ code }, { code, value: 1, limit: 2, at: at(0), of: 'wash' }]) expect(sayWhy(why, job)).toMatch(/^[^{}]{3,}$/)
      expect(shortWhy({ code })).toMatch(/^[^{}.]{3,}$/)
    }
  })

  it('speak for a slot by its numbers, else in the server’s words', () => {
    expect(sayFor({ from: at(0), to: at(120), reason: '', air_c: [18, 24], over_dew_k: 4, wind_kmh: 8, no_rain_h: 10, no_rain_asked_h: 24 })).toBe('Air 18\u00a0°C to 24\u00a0°C, surface 4\u00a0°C or more over the dew point, wind at the slab to 8\u00a0km/h, no rain for 10 h after (the weather reaches no further)')
    expect(sayFor({ from: at(0), to: at(120), reason: 'Old words.' })).toBe('Old words.')
  })
})

it('takes the label’s coverage before the usual, and sees limits that are the wrong way round', () => {
  const job = madeJob({ kind: 'product.chosen', body: { work: 'seal', coverage_m2_per_l: 5 } })
  expect(labelSealer_l(30, job)).toBe(6)
  expect(labelSealer_l(30, madeJob())).toBeNull()
  expect(faultOf({ low_c: 10, high_c: 5, recoat_least_h: null, recoat_most_h: null })).toBe('temp')
  expect(faultOf({ low_c: 5, high_c: 10, recoat_least_h: 8, recoat_most_h: 4 })).toBe('recoat')
  expect(faultOf({ low_c: null, high_c: 10, recoat_least_h: 4, recoat_most_h: 8 })).toBeNull()
})
