import { describe, expect, it } from 'vitest'
import { callOf, fillOf, nextArrival } from '../../../pwa/src/page/phases/pour/fill'
import type { JobView } from '../../../pwa/src/shared/job'
import { at, bay, bayId, loadId, madeJob, order, placed, slab, ticket, type Entry } from './made-job'

// The slab of these tests: 32 m² of 0.1 m, 3.2 m³ drawn.
const fill = (job: JobView) => fillOf(job.slab, job.order, job.loads, job.bays)
const call = (...entries: Entry[]) => callOf(fill(madeJob(slab(), ...entries)), 3)
const struck = (n: number): Entry => ({ kind: 'bay.worked', body: { bay: bayId(n), step: 'strike_off', mark: 'end' } })

describe('what is left to fill', () => {
  it('is the drawn volume with what the order keeps over it, less what is placed', () => {
    const found = fill(madeJob(slab(), order(3.36, 2), ticket(1), placed(1, 0, 20)))
    expect(found.allowance).toBeCloseTo(0.05, 9)
    expect(found.open_m3).toBeCloseTo(3.36 - 1.6, 9)
    expect(found).toMatchObject({ placed_m3: 1.6, on_truck_m3: 0, loads_to_come: 1, measured: null })
    expect(found.to_come_m3).toBeCloseTo(1.76, 9)
  })

  it('keeps a usual allowance without an order, and never under 3 or over 10 %', () => {
    const share = (...entries: Entry[]): number => fill(madeJob(slab(), ...entries)).allowance
    expect(share()).toBeCloseTo(0.07, 9)
    expect(share(order(3.2, 2))).toBeCloseTo(0.03, 9)
    expect(share(order(4.5, 2))).toBeCloseTo(0.1, 9)
  })

  it('counts a load only when all of it is placed', () => {
    const found = fill(madeJob(slab(), order(3.36, 2), ticket(1), placed(1, 0, 20), ticket(2), placed(2, 30, 30)))
    expect(found).toMatchObject({ placed_m3: 1.6, on_truck_m3: 1.6, loads_to_come: 0, to_come_m3: 0 })
  })

  it('goes by the bays struck off while a truck is still being placed', () => {
    const found = fill(madeJob(slab(), order(3.36, 2), bay(1, 0, 2), bay(2, 2, 8), ticket(1), placed(1, 0, 0), struck(1)))
    expect(found.on_truck_m3).toBeCloseTo(1.6 - 0.84, 9)
    expect(found.open_m3).toBeCloseTo(3.36 - 0.84, 9)
  })

  it('takes the rest as the finished bays came out', () => {
    const found = fill(madeJob(slab(), order(3.36, 2), bay(1, 0, 3, loadId(1)), bay(2, 3, 8), ticket(1, { volume_m3: 1.32 }), placed(1, 0, 20), struck(1)))
    expect(found.measured).toBeCloseTo(0.1, 9)
    expect(found.open_m3).toBeCloseTo(3.2 * 1.1 - 1.32, 9)
  })

  it('believes no bay that is not struck off whole, and no speck of slab', () => {
    const one = fill(madeJob(slab(), bay(1, 0, 3, loadId(1)), bay(2, 3, 6, loadId(1)), ticket(1), placed(1, 0, 20), struck(1)))
    expect(one.measured).toBeNull()
    const speck = fill(madeJob(slab(), bay(1, 0, 1, loadId(1)), bay(2, 1, 8), ticket(1, { volume_m3: 0.8 }), placed(1, 0, 20), struck(1)))
    expect(speck.measured).toBeNull()
  })

  it('draws down the drum being placed, never one that waits', () => {
    const found = fill(madeJob(slab(), order(3.36, 2), bay(1, 0, 2), bay(2, 2, 8), ticket(1), ticket(2), placed(1, 0, 0), struck(1)))
    expect(found.on_truck_m3).toBeCloseTo(3.2 - 0.84, 9)
    const waiting = fill(madeJob(slab(), order(3.36, 2), bay(1, 0, 5), ticket(1), placed(1, 0, 20), ticket(2), struck(1)))
    expect(waiting.on_truck_m3).toBe(1.6)
  })

  it('says so when the bays done hold more than the tickets brought, and then cuts no truck', () => {
    const job = madeJob(slab(), order(5, 3), bay(1, 0, 5, loadId(1)), bay(2, 5, 8), ticket(1), placed(1, 0, 20), struck(1))
    expect(fill(job)).toMatchObject({ thin: true, measured: null })
    expect(callOf(fill(job), 3).what).toBe('none')
    expect(fill(madeJob(slab(), bay(1, 0, 4, loadId(1)), ticket(1), placed(1, 0, 20), struck(1))).thin).toBe(false)
  })

  it('is not known without an outline', () => {
    expect(fill(madeJob(order(3, 2), ticket(1)))).toMatchObject({ open_m3: null, short_m3: null, on_truck_m3: 1.6 })
  })
})

describe('the plant is called', () => {
  it('when trucks here and on order won’t reach', () => {
    const found = call(order(3, 2), ticket(1), placed(1, 0, 20), ticket(2, { volume_m3: 1.4 }))
    expect(found.what).toBe('short')
    expect(found.what === 'short' && found.by_m3).toBeCloseTo(3.2 * 1.03 - 3, 9)
  })

  it('for more when all ordered trucks came with less than was ordered', () => {
    const found = call(order(3.36, 2), ticket(1), placed(1, 0, 20), ticket(2, { volume_m3: 1.5 }))
    expect(found.what === 'short' && found.by_m3).toBeCloseTo(0.26, 9)
  })

  it('never while they reach', () => {
    expect(call(order(3.36, 2), ticket(1), placed(1, 0, 20)).what).toBe('none')
    expect(call(ticket(1)).what).toBe('none')
  })

  const half = [bay(1, 0, 4, loadId(1)), bay(2, 4, 8), ticket(1, { volume_m3: 1.6 }), placed(1, 0, 20), struck(1)]

  it('to cut the last truck short, and to share what is left where it would be a small one', () => {
    const found = call(order(4.2, 2), ...half)
    expect(found).toMatchObject({ what: 'cut_last', share: false })
    expect(found.what === 'cut_last' && found.to_m3).toBeCloseTo(1.6 * 1.03, 9)
    expect(call(order(3.9, 3), ...half)).toMatchObject({ what: 'cut_last', share: true })
  })

  it('to drop the last truck when the others fill the slab', () => {
    expect(call(order(5, 4), ...half).what).toBe('drop_last')
  })

  it('never for what is left in a truck that is here: a place is found for it', () => {
    expect(call(order(3.4, 2), ticket(1), ticket(2, { volume_m3: 2.6 })).what).toBe('left_over')
  })
})

describe('the next truck', () => {
  const next = (...entries: Entry[]) => {
    const job = madeJob(slab(), order(3.36, 2), ...entries)
    return nextArrival(job.order, job.loads, fill(job))
  }

  it('comes as ordered, three quarters of an hour after the one before, later when that one was late', () => {
    expect(next()).toMatchObject({ number: 1, at: new Date(at(0)) })
    expect(next(ticket(1), placed(1, -5, 10))).toMatchObject({ number: 2, at: new Date(at(45)) })
    expect(next(ticket(1), placed(1, 20, 40))).toMatchObject({ number: 2, at: new Date(at(65)) })
    expect(next(ticket(1), ticket(2))).toBeNull()
  })
})
