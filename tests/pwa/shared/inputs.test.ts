import { describe, expect, test } from 'vitest'
import { fold, JobFold } from '../../../pwa/src/shared/fold'
import { viewJob } from '../../../pwa/src/shared/job'
import { filled, JOB, readVectors, type Short } from './vectors'

interface Case {
  readonly name: string
  readonly events: readonly Short[]
  readonly expect: Readonly<Record<string, unknown>>
}
const { cases } = readVectors<{ cases: readonly Case[] }>('inputs')

describe('the view holds what the vector says, as on the server', () => {
  test.each(cases)('$name', ({ events, expect: wanted }) => {
    expect(viewJob(fold(events.map(filled), JOB))).toMatchObject(wanted)
  })

  test.each(cases)('$name, told event by event', ({ events, expect: wanted }) => {
    const folding = new JobFold(JOB)
    for (const event of events.map(filled)) {
      folding.add(event)
      viewJob(folding.state)
    }
    expect(viewJob(folding.state)).toMatchObject(wanted)
  })
})

test('what lies over the slab and who has a pin stay the same objects while their events stand', () => {
  const folding = new JobFold(JOB)
  folding.add(filled({ id: '1', clock: '1-A', kind: 'cover.laid', body: { cover: 'c', cover_kind: 'wet' } }))
  folding.add(filled({ id: '2', clock: '2-A', kind: 'slab.outlined', body: { corners: [[0, 0], [4, 0], [0, 3]], thickness_m: 0.1, abutting: [{ edge: 0, against: 'wall' }] } }))
  const first = viewJob(folding.state)
  folding.add(filled({ id: '3', clock: '3-A', kind: 'note.written', body: { text: 'n' } }))
  const later = viewJob(folding.state)
  expect(later.covers[0]?.laid).toBe(first.covers[0]?.laid)
  expect(later.slab?.abutting).toBe(first.slab?.abutting)
})
