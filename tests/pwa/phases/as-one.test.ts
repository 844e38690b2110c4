// What is one thing to a person is taken back as one, however many entries it wrote.
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { actAll } from '../../../pwa/src/page/phases/act'
import { closeUndo, takeBack, undoOffer } from '../../../pwa/src/page/log/undo'
import type { JobId, NoteWritten } from '../../../pwa/src/shared/events'

const written: string[] = []
const retracted: string[] = []
let room = Infinity

vi.mock('../../../pwa/src/page/log/journal', () => ({
  record: async (_job: JobId, _kind: string, { text }: NoteWritten) => {
    if (written.length >= room) throw new Error('full')
    written.push(text)
    return `event of ${text}`
  },
  retract: async (_job: JobId, event: string) => void retracted.push(event),
  events: async () => [],
  jobs: { value: [] },
}))

const job = 'job' as JobId
const notes = (...texts: string[]) => texts.map((text) => ({ text }) as NoteWritten)

beforeEach(() => {
  written.length = retracted.length = 0
  room = Infinity
})
afterEach(closeUndo)

describe('several entries that are one act', () => {
  it('are all written, offered once, and all taken back by one undo', async () => {
    expect(await actAll(job, 'note.written', notes('a', 'b', 'c'), 'Three cuts planned')).toBe(true)
    expect(written).toEqual(['a', 'b', 'c'])
    expect(undoOffer.value?.label).toBe('Three cuts planned')
    await takeBack()
    expect(retracted).toEqual(['event of c', 'event of b', 'event of a'])
    expect(undoOffer.value).toBeNull()
  })

  it('are taken back as far as they went where the phone ran full', async () => {
    room = 2
    expect(await actAll(job, 'note.written', notes('a', 'b', 'c'), 'Three cuts planned')).toBe(false)
    await takeBack()
    expect(retracted).toEqual(['event of b', 'event of a'])
  })

  it('offer nothing where nothing was written', async () => {
    room = 0
    expect(await actAll(job, 'note.written', notes('a'), 'One cut planned')).toBe(false)
    expect(undoOffer.value).toBeNull()
  })
})
