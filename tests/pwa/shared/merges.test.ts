// Merges, whatever phones wrote: the same laws as on the server.
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { fold } from '../../../pwa/src/shared/fold'
import { viewJob } from '../../../pwa/src/shared/job'
import { filled, JOB, type Short } from './vectors'

const LOADS = ['a', 'b', 'c', 'd', 'e']
const graph = fc.dictionary(fc.constantFrom(...LOADS), fc.constantFrom(...LOADS, 'gone'), { maxKeys: 5 })

test('every load stands or went into one that stands', () => {
  fc.assert(
    fc.property(graph, (into) => {
      const tickets = LOADS.map((load, n) => ({ kind: 'load.ticketed', body: { load, number: n + 1, batched_at: '2026-07-14T12:00:00.000Z', volume_m3: 1 } }))
      const merges = Object.entries(into).flatMap(([load, kept]) => (load === kept ? [] : [{ kind: 'load.merged', body: { load, into: kept } }]))
      const said = [...tickets, ...merges].map((one, n): Short => ({ id: `e${n}`, clock: `${String(n).padStart(3, '0')}-A`, ...one }))
      const view = viewJob(fold(said.map(filled), JOB))
      const standing = new Set<string>(view.loads.map((load) => load.id))
      const went = view.merged.map((merge) => merge.load as string)
      expect([...standing, ...went].sort()).toEqual(LOADS)
      expect(view.merged.every((merge) => standing.has(merge.into))).toBe(true)
    }),
  )
})
