import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { Clock, readClock, writeClock } from '../../../pwa/src/shared/clock'
import { readVectors } from './vectors'

type Step =
  | { readonly tick: number; readonly expect: string }
  | { readonly receive: string; readonly wall: number }
  | { readonly lower: readonly string[] }
interface Case {
  readonly name: string
  readonly device: string
  readonly steps: readonly Step[]
}
const vectors = readVectors<{ cases: readonly Case[]; malformed: readonly string[] }>('clock')
const clamps = readVectors<{ cases: readonly { name: string; events: [string, string][]; expect: Record<string, string> }[] }>('clamp')
const DEVICE = '00000000-0000-4000-8000-00000000000d'

describe('the clock steps as the vector says, as on the server', () => {
  test.each(vectors.cases)('$name', ({ device, steps }) => {
    const clock = new Clock(device)
    for (const step of steps) {
      if ('tick' in step) expect(clock.tick(step.tick)).toBe(step.expect)
      else if ('receive' in step) clock.receive(step.receive, step.wall)
      else clock.lower(...step.lower)
    }
  })
})

describe('text of another form is no clock', () => {
  test.each(vectors.malformed)('%j', (text) => {
    expect(() => readClock(text)).toThrow('is not a clock')
  })
})

test('no clock is written that can not be read', () => {
  for (const [ms, counter] of [[-1, 0], [1e15, 0], [0.5, 0], [0, -1], [0, 0x10000], [NaN, 0]] as const) {
    expect(() => writeClock(ms, counter, DEVICE)).toThrow('no clock can hold')
  }
})

describe('a phone takes over what the server clamped, and goes on after it', () => {
  test.each(clamps.cases.filter(({ expect: changed }) => Object.keys(changed).length > 0))('$name', ({ events, expect: changed }) => {
    const own = events.map(([id, clock]) => changed[id] ?? clock).filter((clock) => clock.endsWith(DEVICE))
    const clock = new Clock(DEVICE, 4_070_908_900_000)
    clock.lower(...own)
    const next = clock.tick(0)
    expect(own.every((held) => held < next)).toBe(true)
    expect(readClock(next).ms).toBeLessThanOrEqual(Math.max(...own.map((held) => readClock(held).ms)) + 1)
  })
})

test('a device never writes the same or an earlier clock', () => {
  fc.assert(
    fc.property(fc.array(fc.nat({ max: 9_999_999_999_999 })), (walls) => {
      const clock = new Clock(DEVICE)
      const written = walls.map((wall) => clock.tick(wall))
      expect(written).toEqual([...new Set(written)].toSorted())
    }),
  )
})

test('a wall clock with fractions of a millisecond still gives a clock', () => {
  expect(new Clock(DEVICE).tick(1784034300000.75)).toBe(`001784034300000-0000-${DEVICE}`)
})
