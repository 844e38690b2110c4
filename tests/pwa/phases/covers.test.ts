// What lies over the slab, in which order, and what the card refuses.
import { expect, it } from 'vitest'
import type { CoverId } from '../../../pwa/src/shared/events'
import { lifted, liftFault, lying, marksColour } from '../../../pwa/src/page/phases/cover-state'
import { at, eventId, madeJob, order, type Entry } from './made-job'

const cover = (name: string): CoverId => name as CoverId
const laid = (name: string, minutes: number): Entry => ({ kind: 'cover.laid', body: { cover: cover(name), cover_kind: 'blanket' }, minutes })
const lift = (name: string, minutes: number): Entry => ({ kind: 'cover.lifted', body: { cover: cover(name) }, minutes })

it('what lies now stands last laid first, what was lifted last lifted first', () => {
  const job = madeJob(laid('a', 0), laid('b', 10), laid('c', 20), laid('d', 30), lift('a', 50), lift('b', 40))
  expect(lying(job).map((one) => one.id)).toEqual(['d', 'c'])
  expect(lifted(job).map((one) => one.id)).toEqual(['a', 'b'])
})

it('a lift taken back lies again', () => {
  const job = madeJob(laid('a', 0), lift('a', 20), { kind: 'event.retracted', body: { event: eventId(1) } })
  expect(lying(job)).toHaveLength(1)
  expect(lifted(job)).toHaveLength(0)
})

it('a cover is not lifted before it was laid', () => {
  const [one] = madeJob(laid('a', 60)).covers
  expect(one && liftFault(one, new Date(at(59)))).toBe('before_laying')
  expect(one && liftFault(one, new Date(at(60)))).toBeNull()
})

it('sheets and wet covers call for a word over coloured concrete only, blankets never', () => {
  const grey = madeJob(order(3, 1))
  const red = madeJob({ kind: 'order.placed', body: { volume_m3: 3, loads: 1, pour_at: at(0), colour: 'Brick' } })
  expect(marksColour(grey, 'sheet')).toBe(false)
  expect([marksColour(red, 'sheet'), marksColour(red, 'wet'), marksColour(red, 'blanket')]).toEqual([true, true, false])
})
