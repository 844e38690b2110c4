import { describe, expect, test } from 'vitest'
import { CHECKLISTS, LISTS, progress } from '../../../pwa/src/shared/checklists'
import { LIMITS } from '../../../pwa/src/shared/events'
import { fold } from '../../../pwa/src/shared/fold'
import { viewJob, type ListName } from '../../../pwa/src/shared/job'
import { filled, JOB, readVectors, type Short } from './vectors'

type RowWanted = readonly [subject: string, done: boolean, have: number | null, need: number]
interface Case {
  readonly name: string
  readonly events: readonly Short[]
  readonly expect: Readonly<Partial<Record<ListName, readonly [number, number]>>>
  readonly rows?: Readonly<Record<string, readonly RowWanted[]>>
}
const { cases } = readVectors<{ cases: readonly Case[] }>('checklists')

describe('lists and rows count what the vector says, as on the server', () => {
  test.each(cases)('$name', ({ events, expect: wanted, rows = {} }) => {
    const found = progress(viewJob(fold(events.map(filled), JOB)))
    for (const [name, counts] of Object.entries(wanted)) {
      const { done, total } = found[name as ListName]
      expect([name, done, total]).toEqual([name, ...counts])
    }
    for (const [place, expected] of Object.entries(rows)) {
      const [name, slug] = place.split('/')
      const item = found[name as ListName].items.find((one) => one.item === slug)
      expect(item?.rows.map((row) => [row.subject, row.done, row.need])).toEqual(expected.map(([s, d, , n]) => [s, d, n]))
      expected.forEach(([, , have], index) => {
        if (have === null) expect(item?.rows[index]?.have).toBeNull()
        else expect(item?.rows[index]?.have).toBeCloseTo(have, 9)
      })
    }
  })
})

test('a ticked row tells who and when', () => {
  const body = { list: 'forms', item: 'stakes', subject: '', done: true }
  const view = viewJob(fold([filled({ id: 'a', clock: '1-A', kind: 'item.ticked', body })], JOB))
  const rows = progress(view).forms.items.find((item) => item.item === 'stakes')?.rows
  expect(rows).toMatchObject([{ done: true, event: 'a', by: 'person-A', at: '2026-07-14T12:00:00.000Z' }])
})

test('the lists are those that can be ticked', () => {
  expect(LISTS).toEqual(LIMITS['item.ticked'].list.options)
  expect(Object.values(CHECKLISTS).every((items) => items.length > 0)).toBe(true)
})
