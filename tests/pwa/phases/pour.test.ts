import { describe, expect, it } from 'vitest'
import type { Bodies } from '../../../pwa/src/shared/events'
import { endAfter, isDown, isPlacing } from '../../../pwa/src/page/phases/pour/fill'
import { draftOf, freshTicket, placingRefusal, refusals, ticketBody, type TicketDraft } from '../../../pwa/src/page/phases/pour/ticket'
import { BAY_STEPS, nextStep } from '../../../pwa/src/page/phases/bay-state'
import { PlacingEdit } from '../../../pwa/src/page/phases/pour/placing'
import { bayInHand, POUR_STEPS, running, stepState } from '../../../pwa/src/page/phases/steps'
import { at, bay, bayId, loadId, madeJob, MORNING, placed, slab, ticket } from './made-job'

const now = new Date(MORNING)
const good: TicketDraft = { number: 1, ticket: '', batched_at: at(-20), volume_m3: 6, slump_mm: 100, concrete_temp_c: 24, water_added_l: null, water_allowed_l: null, colour_bags: null, plant: '', admixtures: null }
const codes = (draft: Partial<TicketDraft>, job = madeJob()): string[] => refusals({ ...good, ...draft }, now, job.loads).map((one) => one.code)

describe('a ticket is refused', () => {
  it.each<[string, Partial<TicketDraft>, string]>([
    ['at 60 °C', { concrete_temp_c: 60 }, 'concrete_temp_c_high'],
    ['when frozen', { concrete_temp_c: -4 }, 'concrete_temp_c_negative'],
    ['with a negative volume', { volume_m3: -6 }, 'volume_m3_negative'],
    ['with more than a truck holds', { volume_m3: 60 }, 'volume_m3_high'],
    ['with negative water', { water_added_l: -1 }, 'water_added_l_negative'],
    ['with negative water allowed', { water_allowed_l: -1 }, 'water_allowed_l_negative'],
    ['with more colour than a drum takes', { colour_bags: 201 }, 'colour_bags_high'],
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

describe('a fresh ticket', () => {
  it('holds the order’s share first, the last load’s volume after; never what must be read off the ticket', () => {
    const first = freshTicket([], { volume_m3: 12, loads: 2 })
    expect(first).toMatchObject({ number: 1, volume_m3: 6, batched_at: null, slump_mm: null, concrete_temp_c: null, water_allowed_l: null })
    const job = madeJob(ticket(1, { volume_m3: 5.5, slump_mm: 110, concrete_temp_c: 25 }))
    expect(freshTicket(job.loads, { volume_m3: 12, loads: 2 })).toMatchObject({ number: 2, volume_m3: 5.5, slump_mm: null, concrete_temp_c: null })
  })

  it('becomes the body the log takes, and comes back from it unchanged', () => {
    const body: Bodies['load.ticketed'] = ticketBody({ ...good, ticket: ' 4711 ' }, loadId(1))
    expect(body).toEqual({ load: loadId(1), number: 1, ticket: '4711', batched_at: at(-20), volume_m3: 6, slump_mm: 100, concrete_temp_c: 24, water_added_l: null, water_allowed_l: null, colour_bags: null, plant: null, admixtures: null })
    const load = madeJob({ kind: 'load.ticketed', body }).loads[0]
    expect(load && ticketBody(draftOf(load), loadId(1))).toEqual(body)
  })

  it('is never written half', () => {
    expect(() => ticketBody({ ...good, volume_m3: null }, loadId(1))).toThrow(/not complete/)
  })
})

describe('placing', () => {
  it('goes on from the first touch to the second', () => {
    const job = madeJob(slab(), ticket(1), placed(1, 0, 20), ticket(2), placed(2, 30, 30))
    const [first, second] = job.loads
    expect([first && isDown(first), second && isDown(second), second && isPlacing(second)]).toEqual([true, false, true])
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

  it('follow from one touch to the next: end what runs, else start what comes after the last', () => {
    const next = (...marks: ReturnType<typeof work>[]) => {
      const [first] = madeJob(bay(1, 0, 4), ...marks).bays
      return first ? nextStep(first, BAY_STEPS) : null
    }
    expect(next()).toEqual({ step: 'strike_off', mark: 'start' })
    expect(next(work(1, 'strike_off', 'start', 5))).toEqual({ step: 'strike_off', mark: 'end' })
    expect(next(work(1, 'strike_off', 'start', 5), work(1, 'strike_off', 'end', 9))).toEqual({ step: 'bull_float', mark: 'start' })
    expect(next(work(1, 'bull_float', 'end', 9))).toEqual({ step: 'edge', mark: 'start' })
  })

  it('end with the last one', () => {
    const [first] = madeJob(bay(1, 0, 4), { kind: 'bay.worked', body: { bay: bayId(1), step: 'touch_up', mark: 'end' } }).bays
    expect(first && nextStep(first, BAY_STEPS)).toBeNull()
  })
})

describe('two placing times put right at once', () => {
  const edit = () => new PlacingEdit({ from: at(-20), to: at(-10) })

  it('both stand, though the second comes before the first is drawn', () => {
    const both = edit()
    expect(both.put('from', at(-15), at(-30), now)).toEqual({ write: { from: at(-15), to: at(-10) } })
    expect(both.put('to', at(-5), at(-30), now)).toEqual({ write: { from: at(-15), to: at(-5) } })
  })

  it('are judged as a pair when neither could stand alone', () => {
    const both = edit()
    expect(both.put('from', at(-8), at(-30), now)).toEqual({ refused: 'placed_backwards' })
    expect(both.put('to', at(-2), at(-30), now)).toEqual({ write: { from: at(-8), to: at(-2) } })
  })

  it('outlive a draw of the old times and the echo of the first', () => {
    const both = edit()
    both.put('from', at(-15), at(-30), now)
    both.follow({ from: at(-20), to: at(-10) })
    both.put('to', at(-5), at(-30), now)
    both.follow({ from: at(-15), to: at(-10) })
    expect(both.put('from', at(-16), at(-30), now)).toEqual({ write: { from: at(-16), to: at(-5) } })
  })

  it('are written without who placed it and when: that is the log’s own', () => {
    const kept = { from: at(-20), to: at(-10), area_m2: null, event: 'e', at: at(-9), author: 'a' }
    const both = new PlacingEdit(kept)
    expect(both.put('to', at(-5), at(-30), now)).toEqual({ write: { from: at(-20), to: at(-5) } })
    both.follow({ ...kept, from: at(-19) })
    expect(both.put('to', at(-4), at(-30), now)).toEqual({ write: { from: at(-19), to: at(-4) } })
  })

  it('give way to what another phone wrote, and to what the log could not keep', () => {
    const both = edit()
    both.put('from', at(-8), at(-30), now)
    both.follow({ from: at(-19), to: at(-9) })
    expect(both.put('to', at(-4), at(-30), now)).toEqual({ write: { from: at(-19), to: at(-4) } })
    both.drop()
    expect(both.put('from', at(-18), at(-30), now)).toEqual({ write: { from: at(-18), to: at(-9) } })
  })
})
