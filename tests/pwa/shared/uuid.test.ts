import { expect, test } from 'vitest'
import { newId, Uuids } from '../../../pwa/src/shared/uuid'

const FORM = /^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/

test('an id is a UUIDv7 that carries its millisecond', () => {
  const id = newId(0x0198_0a5d_ac96)
  expect(id).toMatch(FORM)
  expect(id.slice(0, 13)).toBe('01980a5d-ac96')
})

test('ids rise within a millisecond, past a full counter, and when the wall clock goes back', () => {
  const ids = new Uuids()
  const made = Array.from({ length: 12_000 }, (_, n) => ids.next(n < 9_000 ? 1_784_034_300_000 : 1_700_000_000_000))
  expect(made.every((id) => FORM.test(id))).toBe(true)
  expect(made).toEqual([...new Set(made)].toSorted())
})

test('a millisecond starts where it holds at least 2,048 ids, whatever chance says', () => {
  const ids = new Uuids((count) => new Uint8Array(count).fill(0xff))
  const made = Array.from({ length: 2_048 }, () => ids.next(1_784_034_300_000))
  expect(new Set(made.map((id) => id.slice(0, 13))).size).toBe(1)
})

test('two makers in the same millisecond do not meet', () => {
  const [one, other] = [new Uuids(), new Uuids()]
  const made = Array.from({ length: 5_000 }, () => [one.next(1), other.next(1)]).flat()
  expect(new Set(made).size).toBe(10_000)
})
