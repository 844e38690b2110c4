import { describe, expect, it } from 'vitest'
import type { LoadId } from '../../../pwa/src/shared/events'
import { draftBays, panelOf, sharedLength } from '../../../pwa/src/page/plan/bays'
import { reentrantCorners } from '../../../pwa/src/shared/polygon'
import { area } from '../../../pwa/src/page/plan/geometry'
import { checkPanels, colourWord, jointGuidance, loadOptions, orderStep, SURFACE_COLOURS, takeOff, waterEffect } from '../../../pwa/src/page/phases/layout/take-off'
import {
  bayChange, bayWeights, baysFit, draftsFor, isTimeZone, jobBody, jobDraft, knownLoads, loadChoices, loadIdFor, loadsWithoutBay, orderBody, orderDraft, plannedDays, slabBody, slabDraft, weatherBody,
} from '../../../pwa/src/page/phases/layout/state'
import { formatArea, formatSpeed, formatTemp, formatVolume } from '../../../pwa/src/shared/units'
import { readKept } from '../../../pwa/src/page/phases/form'
import { say, sayShort, shownAs, toShown, toSi } from '../../../pwa/src/page/phases/quantity'
import { instantOf, nearestInstant, wallDateTime, wallTime } from '../../../pwa/src/page/phases/wall-clock'
import { bay, bayId, loadId, madeJob, slab, ticket } from './made-job'

const FOOT = 0.3048
const YARD3 = 0.764554857984
const rect = [[0, 0], [9, 0], [9, 3], [0, 3]] as const

describe('take-off', () => {
  it('gives 7.87 yd³ for 20 by 30 ft at 4¼ in (volume = L·W·t / 324)', () => {
    const corners = [[0, 0], [30 * FOOT, 0], [30 * FOOT, 20 * FOOT], [0, 20 * FOOT]] as const
    const sums = takeOff(corners, (4.25 * FOOT) / 12, 0.07, orderStep('us'))
    expect(sums.neat_m3 / YARD3).toBeCloseTo((30 * 20 * 4.25) / 324, 6)
    expect(sums.ordered_m3 / YARD3).toBeCloseTo(8.5, 6)
  })

  it('never orders less than the neat volume, nor a step more than needed', () => {
    const exact = takeOff([[0, 0], [10, 0], [10, 1], [0, 1]], 0.1, 0, 0.25)
    expect(exact.ordered_m3).toBeCloseTo(1, 9)
    expect(takeOff([[0, 0], [10, 0], [10, 1], [0, 1]], 0.1001, 0, 0.25).ordered_m3).toBeCloseTo(1.25, 9)
  })

  it('offers equal loads that fit the truck and names light and short ones', () => {
    const options = loadOptions(18 * YARD3)
    expect(options.map((one) => one.loads)).toEqual([2, 3, 4])
    expect(options.map((one) => one.note)).toEqual(['even', 'light', 'light'])
    expect(options.every((one) => Math.abs(one.loads * one.each_m3 - 18 * YARD3) < 1e-9)).toBe(true)
    expect(loadOptions(11 * YARD3)[0]).toMatchObject({ loads: 1, note: 'even' })
    expect(loadOptions(3 * YARD3)[0]?.note).toBe('short')
    expect(loadOptions(0)).toEqual([])
  })
})

describe('joint guidance', () => {
  // PCA, Concrete Floors on Ground, 2nd ed. 1983, spacing table: 24 t and 36 t, x.5 rounded up [ft].
  it.each([[4, 8, 12], [5, 10, 15], [6, 12, 18]])('spaces a %i in slab %i to %i ft', (inches, least, most) => {
    const guide = jointGuidance(inches * 0.0254)
    expect(guide.spacing_least_m / FOOT).toBeCloseTo(least, 6)
    expect(guide.spacing_most_m / FOOT).toBeCloseTo(most, 6)
  })

  it('never spaces joints over 18 ft (ACI 302.1R)', () => {
    expect(jointGuidance(0.3).spacing_most_m / FOOT).toBeCloseTo(18, 9)
  })

  it('cuts a quarter deep, at least an inch', () => {
    expect(jointGuidance(0.1016).depth_m).toBeCloseTo(0.0254, 9)
    expect(jointGuidance(0.05).depth_m).toBeCloseTo(0.0254, 9)
    expect(jointGuidance(0.2).depth_m).toBeCloseTo(0.05, 9)
  })

  it('flags long, slender and re-entrant bays and leaves square ones alone', () => {
    const flags = (corners: readonly (readonly [number, number])[]) => checkPanels([{ label: 'A', corners }], 0.1)[0]?.flags
    expect(flags([[0, 0], [3, 0], [3, 2.5], [0, 2.5]])).toEqual([])
    expect(flags([[0, 0], [3.5, 0], [3.5, 2], [0, 2]])).toEqual(['slender'])
    expect(flags([[0, 0], [6, 0], [6, 5], [0, 5]])).toEqual(['long'])
    expect(flags([[0, 0], [3, 0], [3, 1.5], [1.5, 1.5], [1.5, 3], [0, 3]])).toEqual(['reentrant'])
  })
})

describe('bays', () => {
  it('are lettered in pour order, from either end', () => {
    const bays = draftBays(rect, { weights: [1, 1, 1] })
    expect(bays.map((one) => one.label)).toEqual(['A', 'B', 'C'])
    expect(bays[0]?.corners.every(([x]) => x <= 3.001)).toBe(true)
    const turned = draftBays(rect, { weights: [1, 1, 1], reversed: true })
    expect(turned[0]?.corners.every(([x]) => x >= 5.999)).toBe(true)
  })

  it('fill the slab and share its inner lines', () => {
    const bays = draftBays(rect, { weights: [2, 1] })
    expect(bays.reduce((sum, one) => sum + area(one.corners), 0)).toBeCloseTo(27, 2)
    expect(sharedLength(bays.map((one) => one.corners), rect)).toBeCloseTo(3, 2)
  })

  it('keep their ids through a new cut, and name those no longer needed', () => {
    const job = madeJob(slab(), bay(1, 0, 3), bay(2, 3, 6), bay(3, 6, 8))
    let made = 0
    const change = bayChange(draftsFor(rect, { bays: 2, by: 'area', reversed: false, lengthwise: false }, []), job.bays, [loadId(1), loadId(2)], () => `new-${++made}`)
    expect(change.drawn.map((one) => one.bay)).toEqual([bayId(1), bayId(2)])
    expect(change.drawn.map((one) => one.load)).toEqual([loadId(1), loadId(2)])
    expect(change.dropped).toEqual([bayId(3)])
    expect(made).toBe(0)
  })

  it('share each load’s volume among its own bays', () => {
    expect(bayWeights({ bays: 4, by: 'load', reversed: false, lengthwise: false }, [{ volume_m3: 6 }, { volume_m3: 4 }])).toEqual([3, 3, 2, 2])
    expect(bayWeights({ bays: 3, by: 'area', reversed: false, lengthwise: false }, [{ volume_m3: 6 }])).toEqual([1, 1, 1])
  })

  it('are not cut from an outline that crosses itself', () => {
    expect(draftsFor([[0, 0], [4, 3], [4, 0], [0, 3]], { bays: 2, by: 'area', reversed: false, lengthwise: false }, [])).toEqual([])
  })

  it('know their shape as panels', () => {
    expect(panelOf('A', [[0, 0], [4, 0], [4, 2], [0, 2]])).toMatchObject({ long_m: 4, short_m: 2, aspect: 2, reentrant: 0 })
    const l = [[0, 0], [4, 0], [4, 1], [1, 1], [1, 3], [0, 3]] as const
    expect(reentrantCorners(l)).toEqual([3])
    expect(reentrantCorners([...l].reverse())).toEqual([2])
  })
})

describe('loads that bays wait for', () => {
  const job = madeJob(slab(), bay(1, 0, 4, loadId(7)), bay(2, 4, 8, loadId(8)), ticket(2))

  it('take the numbers no ticket has', () => {
    expect(knownLoads(job)).toEqual([
      { id: loadId(7), number: 1, ticketed: false }, { id: loadId(2), number: 2, ticketed: true }, { id: loadId(8), number: 3, ticketed: false },
    ])
  })

  it('get their ticket under the id their bays know', () => {
    const fresh = (): string => 'fresh'
    expect(loadIdFor(job, 1, fresh)).toBe(loadId(7))
    expect(loadIdFor(job, 4, fresh)).toBe('fresh' as LoadId)
  })
})

describe('forms', () => {
  it('open a job only with a name, a position and a known time zone', () => {
    const draft = { ...jobDraft(null, 'America/Chicago'), name: ' Birch Lane ', latitude_deg: 41.6, longitude_deg: -93.6 }
    expect(jobBody(draft)).toMatchObject({ body: { name: 'Birch Lane', place: null, time_zone: 'America/Chicago' } })
    expect(jobBody({ ...draft, name: ' ' })).toEqual({ fault: 'name' })
    expect(jobBody({ ...draft, latitude_deg: null })).toEqual({ fault: 'position' })
    expect(jobBody({ ...draft, time_zone: 'Chicago' })).toEqual({ fault: 'zone' })
    expect(isTimeZone('')).toBe(false)
  })

  it('never save an outline that does not hold', () => {
    expect(slabBody(slabDraft(null))).toBeNull()
    expect(slabBody({ ...slabDraft(null), corners: rect })).toMatchObject({ corners: rect, thickness_m: 0.1016 })
  })

  it('write an order in the job’s own time', () => {
    const draft = { ...orderDraft(null, 0.07, 'America/Chicago', 'buff'), loads: 2, pour: '2026-07-14T07:00' }
    expect(orderBody(draft, 6.5, 'America/Chicago')).toMatchObject({ body: { volume_m3: 6.5, loads: 2, pour_at: '2026-07-14T12:00:00.000Z', colour: 'buff' } })
    expect(orderBody({ ...draft, loads: null }, 6.5, 'America/Chicago')).toEqual({ fault: 'loads' })
    expect(orderBody(draft, null, 'America/Chicago')).toEqual({ fault: 'volume' })
    expect(orderBody({ ...draft, pour: '' }, 6.5, 'America/Chicago')).toEqual({ fault: 'pour_at' })
  })

  it('assume no weather that nobody entered', () => {
    const days = plannedDays([], new Date('2026-07-14T12:00:00Z'), 3, 'America/Chicago')
    expect(days.map((day) => day.date)).toEqual(['2026-07-14', '2026-07-15', '2026-07-16'])
    expect(weatherBody(days)).toEqual({ fault: 'none', date: '' })
    const [first, ...rest] = days
    const whole = { date: first?.date ?? '', low_c: 15, high_c: 28, rh: 0.5, wind_kmh: 8, cloud: 0.1 }
    expect(weatherBody([whole, ...rest])).toEqual({ days: [whole] })
    expect(weatherBody([{ ...whole, rh: null }, ...rest])).toMatchObject({ fault: 'unfinished', date: '2026-07-14' })
    expect(weatherBody([{ ...whole, low_c: 30 }, ...rest])).toMatchObject({ fault: 'swapped' })
  })

  it('open a torn draft as an empty one', () => {
    expect(readKept('{"name":"a"}')).toEqual({ name: 'a' })
    for (const torn of ['', '{"name', '[1]', 'null', '3']) expect(readKept(torn)).toEqual({})
  })

  it('name the surface colour nearest to a kept value', () => {
    for (const { word, solar_absorptivity } of SURFACE_COLOURS) expect(colourWord(solar_absorptivity)).toBe(word)
    expect(colourWord(0.95)).toBe('charcoal')
  })

  it('raise w/cm by 0.0148 for a gallon a yard at 564 lb of cement', () => {
    expect(waterEffect(3.785411784, YARD3, 564 * 0.45359237 / YARD3).w_cm_rise).toBeCloseTo(0.0148, 4)
  })
})

describe('amounts', () => {
  it('come back from the shown unit unchanged', () => {
    for (const system of ['us', 'metric'] as const) {
      for (const quantity of ['volume', 'temp', 'slump', 'depth', 'water', 'speed', 'area', 'strength', 'insulation'] as const) {
        const shown = shownAs(quantity, system)
        expect(toSi(toShown(7.3, shown), shown)).toBeCloseTo(7.3, 6)
      }
    }
    expect(toSi(4, shownAs('thickness', 'us'))).toBe(0.1016)
    expect(toSi(95, shownAs('temp', 'us'))).toBe(35)
  })
})

describe('wall clocks', () => {
  const zone = 'America/Chicago'

  it('read and write summer and winter time', () => {
    expect(wallDateTime(new Date('2026-07-14T12:00:00Z'), zone)).toBe('2026-07-14T07:00')
    expect(instantOf('2026-01-14T07:00', zone)?.toISOString()).toBe('2026-01-14T13:00:00.000Z')
    expect(instantOf('2026-03-08T03:30', zone)?.toISOString()).toBe('2026-03-08T08:30:00.000Z')
    expect(instantOf('tomorrow', zone)).toBeUndefined()
  })

  it('take a time as the nearest one: just after midnight, 23:50 was last night', () => {
    const near = new Date('2026-07-15T05:20:00Z')
    expect(wallTime(near, zone)).toBe('00:20')
    expect(nearestInstant('23:50', near, zone)?.toISOString()).toBe('2026-07-15T04:50:00.000Z')
    expect(nearestInstant('00:40', near, zone)?.toISOString()).toBe('2026-07-15T05:40:00.000Z')
    expect(nearestInstant('25:00', near, zone)).toBeUndefined()
  })
})

describe('loads of the order', () => {
  const ordered = { kind: 'order.placed' as const, body: { volume_m3: 9, loads: 3, pour_at: '2026-07-14T12:00:00.000Z' } }

  it('can each be given a bay, also before any ticket', () => {
    const job = madeJob(slab(), ordered, bay(1, 0, 4, loadId(7)), bay(2, 4, 8))
    expect(loadChoices(job)).toEqual([{ id: loadId(7), number: 1 }, { id: null, number: 2 }, { id: null, number: 3 }])
    expect(loadsWithoutBay(job)).toEqual([2, 3])
  })

  it('are not missed while no bay is drawn', () => {
    expect(loadsWithoutBay(madeJob(slab(), ordered))).toEqual([])
  })

  it('leave a changed outline marked until it is cut again', () => {
    const job = madeJob(slab(), bay(1, 0, 4), bay(2, 4, 8))
    expect(baysFit(job.bays, job.slab?.area_m2 ?? 0)).toBe(true)
    expect(baysFit(job.bays, 40)).toBe(false)
    expect(baysFit([], 40)).toBe(true)
  })
})

it('says small lengths in sixteenths or millimetres', () => {
  expect(sayShort(0.0064, 'us')).toBe('1/4"')
  expect(sayShort(0.0064, 'metric')).toBe('6\u00a0mm')
})

it('says amounts as the rest of the app does', () => {
  for (const system of ['us', 'metric'] as const) {
    expect(say(7.4, 'volume', system)).toBe(formatVolume(7.4, system))
    expect(say(23.4, 'temp', system)).toBe(formatTemp(23.4, system))
    expect(say(51.23, 'area', system)).toBe(formatArea(51.23, system))
    expect(say(14.2, 'speed', system)).toBe(formatSpeed(14.2, system))
  }
})
