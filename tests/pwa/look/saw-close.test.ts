import { expect, test } from 'vitest'
import { sawBeside } from '../../../pwa/src/page/now/saw-close'
import { sawWindow } from '../../../pwa/src/page/now/saw-window'
import type { LoadTimeline, TimeWindow, When } from '../../../pwa/src/page/sync/contract'
import { readVectors } from '../shared/vectors'
import { job, jobOutlook } from './sample'

interface Told {
  readonly at: string
  readonly by: string
}
interface Case {
  readonly name: string
  readonly load: LoadTimeline
  readonly opens: Told | null
  readonly closes: Told | null
  readonly cooled: boolean
}
const { cases } = readVectors<{ cases: readonly Case[] }>('saw_beside')
const plain = (told: { readonly at: Date; readonly by: string } | null): Told | null => told && { at: told.at.toISOString(), by: told.by }

test.each(cases)('$name', ({ load, opens, closes, cooled }) => {
  const beside = sawBeside(load)
  expect(beside && { opens: plain(beside.opens), closes: plain(beside.closes), cooled: beside.cooled }).toEqual(opens && { opens, closes, cooled })
})

interface Slab {
  readonly name: string
  readonly placed_to: readonly string[]
  readonly loads: readonly LoadTimeline[] | null
  readonly window: TimeWindow | null
  readonly saw_kind?: string
}
const { cases: slabs } = readVectors<{ cases: readonly Slab[] }>('saw_window')
const atOnce = (when: When | null): When | null => when && { early: iso(when.early), likely: iso(when.likely), late: iso(when.late) }
const iso = (at: string): string => new Date(at).toISOString()

test.each(slabs)('the whole slab: $name', ({ placed_to, loads, window, saw_kind }) => {
  const timeline = loads && jobOutlook(loads).timeline
  const crew = saw_kind ? { saw_kind } : null
  const ticketed = job('Oak', { crew, loads: placed_to.map((to) => ({ placed: { to }, batched_at: to })) })
  const alone = job('Oak', { crew, unticketed: placed_to.map((to) => ({ placed: { to } })) })
  for (const poured of [ticketed, alone]) {
    const found = sawWindow(poured, timeline)
    expect(found && { opens: atOnce(found.opens), closes: atOnce(found.closes) }).toEqual(window)
  }
})

test('a load that has its ticket but was not placed yet counts from its batching; no load at all gives no saw', () => {
  const batched = job('Oak', { loads: [{ placed: null, batched_at: '2026-07-14T06:40:00.000Z' }, { placed: { to: '2026-07-14T08:00:00.000Z' }, batched_at: '2026-07-14T06:00:00.000Z' }] })
  expect(sawWindow(batched, null)?.opens.likely).toBe('2026-07-14T10:40:00.000Z')
  expect(sawWindow(job('Oak'), null)).toBeNull()
})
