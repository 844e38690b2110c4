import { expect, it } from 'vitest'
import { nearest, subjectsOf } from '../../../pwa/src/page/phases/texture/check/subject'
import type { Timeline } from '../../../pwa/src/page/sync/contract'
import { at, bay, bayId, loadId, madeJob, MORNING, placed, ticket, type Entry } from './made-job'

const minute = (minutes: number): Date => new Date(MORNING + minutes * 60_000)
const when = (minutes: number) => ({ early: at(minutes - 10), likely: at(minutes), late: at(minutes + 10) })
const clocks = (...opens: readonly number[]): Timeline => ({
  version: 1, pace: null, slots: {}, warnings: [],
  loads: opens.map((open, i) => ({ id: loadId(i + 1), windows: { texture: { opens: when(open), closes: when(open + 100) } }, curve: [] })),
})
const two: Entry[] = [ticket(1), ticket(2), placed(1, -60, -50), placed(2, -20, -10), bay(1, 0, 4, loadId(1)), bay(2, 4, 8, loadId(2))]
const done = (n: number): Entry => ({ kind: 'bay.worked', body: { bay: bayId(n), step: 'texture', mark: 'end' } })
const picked = (timeline: Timeline | null, minutes: number, ...entries: readonly Entry[]): string | null | undefined => {
  const found = nearest(subjectsOf(madeJob(...entries)), timeline, minute(minutes))
  return found && (found.bay?.label ?? `load ${found.load.number}`)
}

it('starts with the bay whose clock has the least time to its next turn', () => {
  expect(picked(clocks(60, 90), 0, ...two)).toBe('A')
  expect(picked(clocks(60, 90), 70, ...two)).toBe('B') // A is open for a while, B opens in 20 min
  expect(picked(clocks(60, 90), 120, ...two)).toBe('A') // A is about to close
})

it('leaves out what is textured, and what has not come', () => {
  expect(picked(clocks(60, 90), 0, ...two, done(1))).toBe('B')
  expect(picked(clocks(60, 10), 0, ...two.filter((one) => one.kind !== 'load.placed'), placed(1, -60, -50))).toBe('A')
})

it('takes the first on the slab where no times are known', () => {
  expect(picked(null, 0, ...two)).toBe('A')
  expect(picked(null, 0, ...two, done(1))).toBe('B')
})

it('still has something to speak of when all is textured, and loads where no bays are', () => {
  expect(picked(clocks(60, 90), 0, ...two, done(1), done(2))).toBe('A')
  expect(picked(clocks(60, 30), 0, ticket(1), ticket(2), placed(1, -60, -50), placed(2, -20, -10))).toBe('load 2')
  expect(picked(null, 0)).toBeNull()
})
