// Laws of the fold, over random logs of 2 to 6 devices with retracts of retracts.
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { byClock, type Logged } from '../../../pwa/src/shared/event'
import { fold, JobFold, type JobState } from '../../../pwa/src/shared/fold'
import { viewJob } from '../../../pwa/src/shared/job'
import { progress } from '../../../pwa/src/shared/checklists'
import { filled, JOB, type Short } from './vectors'

const bay = fc.constantFrom('b1', 'b2')
const something: fc.Arbitrary<Pick<Short, 'kind' | 'body'>> = fc.oneof(
  fc.record({ kind: fc.constant('note.written'), body: fc.record({ text: fc.constantFrom('wet', 'dry') }) }),
  fc.record({
    kind: fc.constant('bay.worked'),
    body: fc.record({ bay, step: fc.constantFrom('mag', 'texture'), mark: fc.constantFrom('start', 'end') }),
  }),
  fc.record({
    kind: fc.constant('item.ticked'),
    body: fc.record({ list: fc.constant('forms'), item: fc.constant('stakes'), subject: fc.constant(''), done: fc.boolean() }),
  }),
  fc.record({ kind: fc.constant('later.kind'), body: fc.constant({ what: 1 }) }),
  fc.record({ kind: fc.constant('event.retracted'), body: fc.record({ event: fc.nat(26).map((n) => `e${n}`) }) }),
  fc.record({ kind: fc.constant('event.retracted'), body: fc.record({ event: fc.nat(26).map((n) => `e${n}`) }) }),
)
const log: fc.Arbitrary<Logged[]> = fc
  .array(fc.tuple(something, fc.nat(30), fc.nat(5)), { maxLength: 24 })
  .map((all) => all.map(([what, ms, device], n) => filled({ ...what, id: `e${n}`, clock: `${String(ms).padStart(3, '0')}-${device}` })))
const shuffled = log.chain((events) =>
  fc.tuple(
    fc.constant(events),
    fc.shuffledSubarray([...events, ...events], { minLength: events.length * 2, maxLength: events.length * 2 }),
  ),
)

function told(events: readonly Logged[]): JobState {
  const folding = new JobFold(JOB)
  for (const event of events) folding.add(event)
  return folding.state
}

/** A state as the JSON it stands for. */
function plain({ job, set, items }: JobState): unknown {
  return { job, set, items }
}

/** Ids that stand, straight from the rule: latest first, an unhidden retract hides its target. */
function byDefinition(events: readonly Logged[]): Set<string> {
  const known = new Map<string, Logged>(events.map((event) => [event.id, event]))
  const hidden = new Set<string>()
  for (const event of events.toSorted((a, b) => byClock(b, a))) {
    const target = event.kind === 'event.retracted' ? known.get((event.body as { event: string }).event) : undefined
    if (target && !hidden.has(event.id) && byClock(target, event) < 0) hidden.add(target.id)
  }
  return new Set([...known.keys()].filter((id) => !hidden.has(id)))
}

test('order and duplicates never matter', () => {
  fc.assert(
    fc.property(shuffled, ([events, again]) => {
      expect(plain(told(again))).toEqual(plain(fold(events, JOB)))
    }),
    { numRuns: 400 },
  )
})

test('what stands is what the rule says', () => {
  fc.assert(
    fc.property(log, (events) => {
      const stands = byDefinition(events)
      const notes = events.filter((event) => event.kind === 'note.written' && stands.has(event.id)).toSorted(byClock)
      const ticks = events.filter((event) => event.kind === 'item.ticked' && stands.has(event.id)).toSorted(byClock)
      const state = told(events)
      expect((state.items['notes'] ?? []).map((entry) => entry.event)).toEqual(notes.map((event) => event.id))
      expect(state.set['ticks/forms/stakes/']?.event).toBe(ticks.at(-1)?.id)
    }),
    { numRuns: 400 },
  )
})

test('a state read while events come in ends the same as one read at the end', () => {
  fc.assert(
    fc.property(shuffled, ([events, again]) => {
      const folding = new JobFold(JOB)
      for (const event of again) {
        folding.add(event)
        progress(viewJob(folding.state))
      }
      expect(viewJob(folding.state)).toEqual(viewJob(fold(events, JOB)))
    }),
    { numRuns: 60 },
  )
})
