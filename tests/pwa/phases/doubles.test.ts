import { describe, expect, it } from 'vitest'
import type { Bodies } from '../../../pwa/src/shared/events'
import { differing, findDoubles, lacking } from '../../../pwa/src/shared/doubles'
import { en } from '../../../pwa/src/page/words/en'
import { es } from '../../../pwa/src/page/words/es'
import { fill } from '../../../pwa/src/page/words'
import { ana, at, ben, loadId, madeJob, placed, ticket, type Entry } from './made-job'

const by = (entry: Entry, author: typeof ana, minutes: number): Entry => ({ ...entry, author, minutes })
const anas = (n: number, more: Partial<Bodies['load.ticketed']> = {}): Entry => by(ticket(n, more), ana, 12)
const bens = (n: number, more: Partial<Bodies['load.ticketed']> = {}): Entry => by(ticket(n, more), ben, 14)
const found = (...entries: Entry[]) => {
  const job = madeJob(...entries)
  return findDoubles(job.loads, job.notes).map(({ first, second, alike }) => [first.author === ana ? 'ana' : 'ben', second.author === ana ? 'ana' : 'ben', alike])
}
const note = (text: string): Entry => ({ kind: 'note.written', body: { text } })

describe('a truck written twice is found', () => {
  it('by its number, the one written first on the left', () => {
    expect(found(bens(2, { number: 1, batched_at: at(-90), volume_m3: 5 }), anas(1))).toEqual([['ana', 'ben', ['number']]])
  })

  it('by its ticket number, however it is typed', () => {
    expect(found(anas(1, { ticket: 'A-004711', batched_at: at(-90) }), bens(2, { ticket: 'a 004711', volume_m3: 3 }))).toEqual([['ana', 'ben', ['ticket']]])
  })

  it('by batch time and volume, when two people wrote it', () => {
    expect(found(anas(1), bens(2, { batched_at: at(-21) }))).toEqual([['ana', 'ben', ['batch']]])
    expect(found(anas(1), bens(2, { batched_at: at(-19) }))).toEqual([])
    expect(found(anas(1), bens(2, { volume_m3: 1.7 }))).toEqual([])
  })

  it('never from two tickets of one person, nor from two ticket numbers that differ', () => {
    expect(found(anas(1), by(ticket(2), ana, 14))).toEqual([])
    expect(found(anas(1, { ticket: '4711' }), bens(2, { ticket: '4712' }))).toEqual([])
  })

  it('with each pair of three', () => {
    expect(found(anas(1), bens(2, { number: 1 }), by(ticket(3, { number: 1 }), ana, 16))).toHaveLength(3)
  })
})

describe('a pair that was told apart is not asked about again', () => {
  it.each([['en', en], ['es', es]] as const)('by the note everyone reads, in %s', (_, words) => {
    const text = fill(words['pour.double.note'], { first: 1, second: 2 })
    expect(found(anas(1), bens(2), note(text))).toEqual([])
    expect(found(anas(1), bens(2), note(fill(words['pour.double.note'], { first: 1, second: 3 })))).toHaveLength(1)
  })

  it('never by a note that only speaks of loads', () => {
    expect(found(anas(1), bens(2), note('Load 1 and load 2 look alike'))).toHaveLength(1)
  })

  it('and is asked about when both get one number again', () => {
    expect(found(anas(1), bens(2, { number: 1 }), note('Load 1 ≠ load 2: two trucks'))).toHaveLength(1)
  })
})

describe('one truck', () => {
  const merged: Entry = { kind: 'load.merged', body: { load: loadId(2), into: loadId(1) }, author: ben, minutes: 20 }

  it('is one load once merged, says who did it, and takes the double’s placing', () => {
    const job = madeJob(anas(1), bens(2, { number: 1 }), placed(2, 0, 20), merged)
    expect(findDoubles(job.loads, job.notes)).toEqual([])
    expect(job.loads).toMatchObject([{ id: loadId(1), placed: { from: at(0), to: at(20) } }])
    expect(job.merged).toMatchObject([{ load: loadId(2), into: loadId(1), author: ben }])
  })

  it('may take what its ticket lacks from the double, and nothing else', () => {
    const [kept, double] = madeJob(anas(1, { slump_mm: null, concrete_temp_c: 24 }), bens(2, { ticket: '4711', concrete_temp_c: 25 })).loads
    expect(kept && double && lacking(kept, double)).toEqual(['ticket', 'slump_mm'])
    expect(kept && double && differing(kept, double)).toEqual(['number', 'ticket', 'slump_mm', 'concrete_temp_c'])
  })
})
