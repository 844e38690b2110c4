import { describe, expect, test } from 'vitest'
import { fold, JobFold } from '../../../pwa/src/shared/fold'
import { viewJob, type JobView } from '../../../pwa/src/shared/job'
import { filled, JOB, readVectors, type Short } from './vectors'

interface Case<Wanted> {
  readonly name: string
  readonly events: readonly Short[]
  readonly expect: Wanted
}
const vectors = readVectors<{ cases: readonly Case<JobView>[]; phases: readonly Case<string>[] }>('view')

describe('the view is what the vector says, as on the server', () => {
  test.each(vectors.cases)('$name', ({ events, expect: wanted }) => {
    expect(viewJob(fold(events.map(filled), JOB))).toStrictEqual(wanted)
  })

  test.each(vectors.cases)('$name, told event by event', ({ events, expect: wanted }) => {
    const folding = new JobFold(JOB)
    for (const event of events.map(filled)) {
      folding.add(event)
      viewJob(folding.state)
    }
    expect(viewJob(folding.state)).toStrictEqual(wanted)
  })
})

describe('the phase is the furthest of what was said and what the facts imply', () => {
  test.each(vectors.phases)('$name', ({ events, expect: wanted }) => {
    expect(viewJob(fold(events.map(filled), JOB)).phase).toBe(wanted)
  })
})

test('a leaf stays the same object while its event stands', () => {
  const folding = new JobFold(JOB)
  const note = (id: string): Short => ({ id, clock: `${id}-A`, kind: 'note.written', body: { text: id } })
  folding.add(filled(note('1')))
  const [first] = viewJob(folding.state).notes
  folding.add(filled(note('2')))
  expect(viewJob(folding.state).notes[0]).toBe(first)
})
