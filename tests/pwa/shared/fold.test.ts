import { describe, expect, test } from 'vitest'
import { fold, JobFold, type JobState } from '../../../pwa/src/shared/fold'
import type { Logged } from '../../../pwa/src/shared/event'
import type { EventId, JobId } from '../../../pwa/src/shared/events'
import { viewJob } from '../../../pwa/src/shared/job'
import { filled, JOB, readVectors, type Short } from './vectors'

interface Winners {
  readonly set: Record<string, string>
  readonly items: Record<string, string[]>
}
interface Case {
  readonly name: string
  readonly events: readonly Short[]
  readonly expect: Winners
}
const { cases } = readVectors<{ cases: readonly Case[] }>('fold')

function winners(state: JobState): Winners {
  const items = Object.entries(state.items).map(([name, entries]) => [name, entries.map((entry) => entry.event)])
  const set = Object.entries(state.set).map(([key, entry]) => [key, entry.event])
  return { set: Object.fromEntries(set), items: Object.fromEntries(items) }
}

function told(events: readonly Logged[]): JobState {
  const folding = new JobFold(JOB)
  for (const event of events) folding.add(event)
  return folding.state
}

function orders<T>(all: readonly T[]): T[][] {
  if (all.length < 2) return [[...all]]
  return all.flatMap((first, index) => orders(all.toSpliced(index, 1)).map((rest) => [first, ...rest]))
}

describe('the fold gives what the vector says', () => {
  test.each(cases)('$name', ({ events, expect: wanted }) => {
    expect(winners(fold(events.map(filled), JOB))).toEqual(wanted)
  })
})

describe('every order of arrival gives the same', () => {
  test.each(cases.filter(({ events }) => events.length <= 6))('$name', ({ events, expect: wanted }) => {
    for (const order of orders(events.map(filled))) expect(winners(told(order))).toEqual(wanted)
  })
})

describe('the incremental fold', () => {
  const note = filled({ id: 'a', clock: '50-A', kind: 'note.written', body: { text: 'wet' } })

  test('says whether anything was new', () => {
    const folding = new JobFold(JOB)
    const clamped = { ...note, clock: '40-A' }
    expect([note, note, clamped, note].map((event) => folding.add(event))).toEqual([true, false, true, false])
  })

  test('keeps the same state object until an event changes it', () => {
    const folding = new JobFold(JOB)
    folding.add(note)
    const before = folding.state
    folding.add(note)
    expect(folding.state).toBe(before)
    folding.add({ ...note, id: 'b' as EventId })
    expect(folding.state).not.toBe(before)
    expect(before.items['notes']).toHaveLength(1)
  })

  test('a state read back from JSON is viewed the same', () => {
    const tick = { list: 'forms', item: 'stakes', subject: '', done: true }
    const folding = new JobFold(JOB)
    for (const event of [note, filled({ id: 'b', clock: '60-A', kind: 'item.ticked', body: tick })]) folding.add(event)
    const back = JSON.parse(JSON.stringify(folding.state)) as JobState
    expect(viewJob(back)).toEqual(viewJob(folding.state))
    expect(Object.keys(viewJob(back).ticks)).toEqual(['forms/stakes/'])
  })

  test('refuses an event of another job', () => {
    expect(() => new JobFold('K' as JobId).add(note)).toThrow('belongs to job J, not K')
  })

  test('flips a chain of undo and redo each time', () => {
    const folding = new JobFold(JOB)
    folding.add(filled({ id: 'e00', clock: '00-A', kind: 'note.written', body: { text: 'n' } }))
    for (let n = 1; n < 60; n += 1) {
      const body = { event: `e${String(n - 1).padStart(2, '0')}` }
      const id = String(n).padStart(2, '0')
      folding.add(filled({ id: `e${id}`, clock: `${id}-A`, kind: 'event.retracted', body }))
      expect(folding.state.items['notes'] !== undefined).toBe(n % 2 === 0)
    }
  })
})
