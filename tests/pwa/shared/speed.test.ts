// A tick on a phone is drawn in 50 ms; this part of it must stay small beside that on a job of 5,000 events.
import { expect, test } from 'vitest'
import { progress } from '../../../pwa/src/shared/checklists'
import { JobFold } from '../../../pwa/src/shared/fold'
import { viewJob } from '../../../pwa/src/shared/job'
import { filled, JOB, type Short } from './vectors'

const corners = [[0, 0], [3, 0], [3, 3], [0, 3]]
const makers: readonly ((n: number) => Pick<Short, 'kind' | 'body'>)[] = [
  (n) => ({ kind: 'item.ticked', body: { list: 'debris', item: `item_${n % 40}`, subject: String(n), done: true } }),
  (n) => ({ kind: 'bay.worked', body: { bay: `b${n % 60}`, step: 'mag', mark: n % 2 ? 'start' : 'end' } }),
  (n) => ({ kind: 'bay.drawn', body: { bay: `b${n % 60}`, label: 'x', corners, order: n % 60 } }),
  (n) => ({ kind: 'check.made', body: { load: `l${n % 9}`, kind: 'thumb' } }),
  (n) => ({ kind: 'pin.dropped', body: { pin: `n${n}`, spot: [1, 1], what: 'debris' } }),
  (n) => ({ kind: 'event.retracted', body: { event: `e${n - 3}` } }),
]

function event(n: number) {
  const what = makers[n % makers.length]?.(n) ?? { kind: '', body: {} }
  return filled({ ...what, id: `e${n}`, clock: `${String(n).padStart(6, '0')}-A` })
}

test('a job of 5,000 events takes one more in a few milliseconds', () => {
  const folding = new JobFold(JOB)
  const started = performance.now()
  for (let n = 0; n < 5_000; n += 1) folding.add(event(n))
  progress(viewJob(folding.state))
  const first = performance.now() - started
  const times = Array.from({ length: 30 }, (_, n) => {
    const before = performance.now()
    folding.add(event(5_000 + n))
    progress(viewJob(folding.state))
    return performance.now() - before
  }).toSorted((a, b) => a - b)
  const median = times[15] ?? Infinity
  console.log(`5,000 events from nothing ${first.toFixed(1)} ms; one more: median ${median.toFixed(2)} ms`)
  expect(median).toBeLessThan(10)
})
