import { describe, expect, it } from 'vitest'
import type { Bodies } from '../../../pwa/src/shared/events'
import { endAfter, fillOf, isDown, isPlacing } from '../../../pwa/src/page/phases/pour/fill'
import { draftOf, freshTicket, placingRefusal, refusals, remarks, ticketBody, type TicketDraft } from '../../../pwa/src/page/phases/pour/ticket'
import { bayInHand, POUR_STEPS, running, stepState } from '../../../pwa/src/page/phases/steps'
import { at, bay, bayId, loadId, madeJob, MORNING, order, placed, slab, ticket } from './made-job'

const now = new Date(MORNING)
const good: TicketDraft = { number: 1, ticket: '', batched_at: at(-20), volume_m3: 6, slump_mm: 100, concrete_temp_c: 24, water_added_l: null }
const codes = (draft: Partial<TicketDraft>, job = madeJob()): string[] => refusals({ ...good, ...draft }, now, job.loads).map((one) => one.code)

describe('a ticket is refused', () => {
  it.each<[string, Partial<TicketDraft>, string]>([
    ['at 60 °C', { concrete_temp_c: 60 }, 'concrete_temp_c_high'],
    ['when frozen', { concrete_temp_c: -4 }, 'concrete_temp_c_negative'],
    ['with a negative volume', { volume_m3: -6 }, 'volume_m3_negative'],
    ['with more than a truck holds', { volume_m3: 60 }, 'volume_m3_high'],
    ['with negative water', { water_added_l: -1 }, 'water_added_l_negative'],
    ['with a slump taller than the cone', { slump_mm: 400 }, 'slump_mm_high'],
    ['without its batch time', { batched_at: null }, 'batched_at_missing'],
    ['when batched later than now', { batched_at: at(10) }, 'batched_later_than_now'],
    ['when it is another day’s', { batched_at: at(-13 * 60) }, 'batched_too_long_ago'],
  ])('%s', (_, draft, code) => {
    expect(codes(draft)).toEqual([code])
  })

  it('never when it can be true', () => {
    expect(codes({})).toEqual([])
    expect(codes({ concrete_temp_c: 45, slump_mm: 0, water_added_l: 400, volume_m3: 15 })).toEqual([])
  })

  it('when its number is taken, with the next free one; not when it is the load being changed', () => {
    const job = madeJob(ticket(1), ticket(2))
    expect(refusals(good, now, job.loads)).toEqual([{ field: 'number', code: 'number_taken', other: 3 }])
    expect(refusals(good, now, job.loads, job.loads[0])).toEqual([])
  })

  it('when batching is moved behind the start of placing', () => {
    const job = madeJob(ticket(1), placed(1, -15, -5))
    const load = job.loads[0]
    expect(refusals({ ...good, batched_at: at(-10) }, now, job.loads, load).map((one) => one.code)).toEqual(['batched_after_placed'])
    expect(refusals({ ...good, batched_at: at(-16) }, now, job.loads, load)).toEqual([])
  })

  it('never by a few minutes between two clocks', () => {
    expect(codes({ batched_at: at(2) })).toEqual([])
  })
})

describe('placing times are refused', () => {
  it.each<[string, number, number, string | null]>([
    ['backwards', -5, -6, 'placed_backwards'],
    ['before batching', -40, -5, 'placed_before_batched'],
    ['later than now', -5, 9, 'placed_later_than_now'],
    ['never in order', -20, -5, null],
  ])('%s', (_, from, to, code) => {
    expect(placingRefusal(at(-30), at(from), at(to), now)).toBe(code)
  })
})

it('remarks on heat, cold, water, slump and age without refusing', () => {
  const job = madeJob(ticket(1, { slump_mm: 100 }))
  const said = (draft: Partial<TicketDraft>): string[] => remarks({ ...good, number: 2, ...draft }, now, job.loads).map((one) => one.code)
  expect(said({})).toEqual([])
  expect(said({ concrete_temp_c: 36 })).toEqual(['hot'])
  expect(said({ concrete_temp_c: 10 })).toEqual(['cold'])
  expect(said({ water_added_l: 20 })).toEqual(['water'])
  expect(said({ slump_mm: 140 })).toEqual(['slump_shift'])
  expect(said({ batched_at: at(-100) })).toEqual(['old_load'])
})

describe('a fresh ticket', () => {
  it('offers the order’s share and slump first, the last load’s after; never a temperature', () => {
    const first = freshTicket([], { volume_m3: 12, loads: 2, slump_mm: 90 })
    expect(first).toMatchObject({ number: 1, volume_m3: 6, slump_mm: 90, batched_at: null, concrete_temp_c: null })
    const job = madeJob(ticket(1, { volume_m3: 5.5, slump_mm: 110, concrete_temp_c: 25 }))
    expect(freshTicket(job.loads, { volume_m3: 12, loads: 2 })).toMatchObject({ number: 2, volume_m3: 5.5, slump_mm: 110, concrete_temp_c: null })
  })

  it('becomes the body the log takes, and comes back from it unchanged', () => {
    const body: Bodies['load.ticketed'] = ticketBody({ ...good, ticket: ' 4711 ' }, loadId(1))
    expect(body).toEqual({ load: loadId(1), number: 1, ticket: '4711', batched_at: at(-20), volume_m3: 6, slump_mm: 100, concrete_temp_c: 24, water_added_l: null })
    const load = madeJob({ kind: 'load.ticketed', body }).loads[0]
    expect(load && ticketBody(draftOf(load), loadId(1))).toEqual(body)
  })

  it('is never written half', () => {
    expect(() => ticketBody({ ...good, volume_m3: null }, loadId(1))).toThrow(/not complete/)
  })
})

describe('what is left to fill', () => {
  it('counts a load only when all of it is placed', () => {
    const job = madeJob(slab(), order(3.4, 2), ticket(1), placed(1, 0, 20), ticket(2), placed(2, 30, 30))
    const [first, second] = job.loads
    expect([first && isDown(first), second && isDown(second), second && isPlacing(second)]).toEqual([true, false, true])
    const fill = fillOf(job.slab?.volume_m3, job.order, job.loads)
    expect(fill.left_m3).toBeCloseTo(3.2 - 1.6, 9)
    expect(fill).toMatchObject({ placed_m3: 1.6, on_site_m3: 1.6, loads_to_come: 0, short_m3: 0 })
  })

  it('says how far the order falls short before the last truck is gone', () => {
    const job = madeJob(slab(), order(3, 2), ticket(1), placed(1, 0, 20))
    expect(fillOf(job.slab?.volume_m3, job.order, job.loads).short_m3).toBeCloseTo(0.2, 9)
  })

  it('counts what stands on site even beyond the order', () => {
    const job = madeJob(slab(), order(1.6, 1), ticket(1), ticket(2))
    expect(fillOf(job.slab?.volume_m3, job.order, job.loads).short_m3).toBe(0)
  })

  it('ends placing after it began, however quick the second touch', () => {
    expect(endAfter(at(5), new Date(MORNING + 5 * 60_000))).toBe(new Date(MORNING + 5 * 60_000 + 1000).toISOString())
    expect(endAfter(at(5), new Date(MORNING + 9 * 60_000))).toBe(at(9))
  })
})

describe('steps of a bay', () => {
  const work = (n: number, step: 'strike_off' | 'bull_float', mark: 'start' | 'end', minutes: number) => ({ kind: 'bay.worked' as const, body: { bay: bayId(n), step, mark }, minutes })

  it('go from open to running to done, and run again when started anew', () => {
    const state = (...marks: ReturnType<typeof work>[]): string => {
      const [first] = madeJob(bay(1, 0, 4), ...marks).bays
      return first ? stepState(first, 'strike_off') : ''
    }
    expect(state()).toBe('open')
    expect(state(work(1, 'strike_off', 'start', 5))).toBe('running')
    expect(state(work(1, 'strike_off', 'start', 5), work(1, 'strike_off', 'end', 9))).toBe('done')
    expect(state(work(1, 'strike_off', 'start', 5), work(1, 'strike_off', 'end', 9), work(1, 'strike_off', 'start', 12))).toBe('running')
  })

  it('point at the bay in hand: the running one, else the first not done', () => {
    const bays = [bay(1, 0, 4), bay(2, 4, 8)] as const
    expect(bayInHand(madeJob(...bays).bays, POUR_STEPS)).toBe(bayId(1))
    const busy = madeJob(...bays, work(2, 'bull_float', 'start', 3))
    expect(bayInHand(busy.bays, POUR_STEPS)).toBe(bayId(2))
    expect(running(busy.bays, POUR_STEPS)).toEqual([{ bay: bayId(2), step: 'bull_float' }])
    expect(bayInHand([], POUR_STEPS)).toBeNull()
  })
})
