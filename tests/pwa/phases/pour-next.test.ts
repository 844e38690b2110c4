import { expect, it } from 'vitest'
import { nextOnPour } from '../../../pwa/src/page/phases/pour/next'
import type { Timeline } from '../../../pwa/src/page/sync/contract'
import { at, bay, bayId, loadId, madeJob, MORNING, order, placed, slab, ticket, type Entry } from './made-job'

const now = new Date(MORNING + 20 * 60_000)
const work = (n: number, step: 'strike_off' | 'bull_float' | 'edge', mark: 'start' | 'end'): Entry => ({ kind: 'bay.worked', body: { bay: bayId(n), step, mark }, minutes: 10 })
const ground = [slab(), order(3.36, 2), bay(1, 0, 4, loadId(1)), bay(2, 4, 8, loadId(2))]
const next = (entries: Entry[], timeline: Timeline | null = null) => nextOnPour(madeJob(...ground, ...entries), timeline, now)
const early = { batched_at: at(0) }

it('is the first truck before anything came', () => {
  expect(next([])).toMatchObject({ what: 'coming', arrival: { number: 1 } })
  expect(nextOnPour(madeJob(slab()), null, now)).toEqual({ what: 'nothing' })
})

it('is to hold a load that does not match, before anything else', () => {
  const entries = [ticket(1, early), placed(1, 5, 15), work(1, 'strike_off', 'end'), ticket(2, { ...early, slump_mm: 160 })]
  expect(next(entries)).toMatchObject({ what: 'hold', load: { number: 2 }, word: { code: 'slump_wetter' } })
})

it('is a drum whose time runs out, before the slab', () => {
  expect(next([ticket(1, { batched_at: at(-60) }), placed(1, 5, 5)])).toMatchObject({ what: 'empty', load: { number: 1 } })
})

it('is the bay the truck fills, then its bull float at once, then the drum', () => {
  const going = [ticket(1, early), placed(1, 5, 5)]
  expect(next(going)).toMatchObject({ what: 'step', bay: { label: 'A' }, step: { step: 'strike_off', mark: 'start' } })
  const running = [...going, work(1, 'strike_off', 'start')]
  expect(next(running)).toMatchObject({ what: 'step', step: { step: 'strike_off', mark: 'end' } })
  expect(next([...going, work(1, 'strike_off', 'end')])).toMatchObject({ what: 'step', bay: { label: 'A' }, step: { step: 'bull_float', mark: 'start' } })
  const both = [1, 2].flatMap((n) => [work(n, 'strike_off', 'end'), work(n, 'bull_float', 'end')])
  expect(next([...going, ...both])).toMatchObject({ what: 'finish', load: { number: 1 } })
})

it('is a truck that stands, a placement without a ticket, the truck to come', () => {
  expect(next([ticket(1, early)])).toMatchObject({ what: 'place', load: { number: 1 } })
  expect(next([placed(1, 0, 10)])).toMatchObject({ what: 'ticket' })
  expect(next([ticket(1, early), placed(1, 0, 10), work(1, 'bull_float', 'end')])).toMatchObject({ what: 'coming', arrival: { number: 2 } })
})

it('is a bay that was placed and not struck off, while that can still be', () => {
  const entries = [ticket(1, early), placed(1, 0, 10)]
  expect(next(entries)).toMatchObject({ what: 'step', bay: { label: 'A' }, step: { step: 'strike_off', mark: 'start' } })
  expect(next([ticket(1, { batched_at: at(-60) }), placed(1, -50, -26)])).toMatchObject({ what: 'coming' })
})

const when = (minutes: number) => ({ early: at(minutes - 5), likely: at(minutes), late: at(minutes + 5) })
const clock = (minutes: number): Timeline => ({ version: 1, loads: [{ id: loadId(1), windows: { edge: { opens: when(minutes), closes: null } }, curve: [] }], pace: null, slots: {}, warnings: [] })

it('is the next clock by hand when it opens before the truck comes, or no truck comes', () => {
  const entries = [ticket(1, early), placed(1, 0, 10), work(1, 'bull_float', 'end')]
  expect(next(entries, clock(30))).toMatchObject({ what: 'wait', bay: { label: 'A' }, step: 'edge' })
  expect(next(entries, clock(180))).toMatchObject({ what: 'coming' })
  const all = [...entries, ticket(2, early), placed(2, 10, 18), work(2, 'bull_float', 'end')]
  expect(next(all, clock(180))).toMatchObject({ what: 'wait' })
  expect(next(all)).toEqual({ what: 'texture' })
})
