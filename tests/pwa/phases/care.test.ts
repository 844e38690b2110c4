import { describe, expect, it } from 'vitest'
import { sideFlag } from '../../../pwa/src/page/phases/checklist'
import { heatAsks } from '../../../pwa/src/page/phases/heat'
import { rounded, say, sayRun, shownAs } from '../../../pwa/src/page/phases/quantity'
import type { Timeline } from '../../../pwa/src/page/sync/contract'

const now = new Date('2026-07-14T18:00:00Z')
const calm = { warnings: [] } as unknown as Timeline
const hot = { warnings: [{ code: 'heat_stress', load: null, from: '2026-07-14T17:00:00Z', to: '2026-07-14T22:00:00Z', text: '' }] } as unknown as Timeline
const read = (air_temp_c: number, at: string) => ({ weather_notes: [{ air_temp_c, at }] as never })

describe('care for heat', () => {
  it.each([
    ['the engine warns of it', { weather_notes: [] }, hot, true],
    ['nobody knows the weather', { weather_notes: [] }, null, true],
    ['it was read on the slab', read(31, '2026-07-14T15:00:00Z'), calm, true],
    ['it was read yesterday', read(31, '2026-07-13T15:00:00Z'), calm, false],
    ['it is mild', read(20, '2026-07-14T15:00:00Z'), calm, false],
  ])('shows when %s: %#', (_, job, timeline, shown) => {
    expect(heatAsks(job as never, timeline, now)).toBe(shown)
  })
})

describe('fall beside a building', () => {
  it.each([
    ['edge', 1.4, true, true],
    ['edge', 2, true, false],
    ['edge', 0.5, false, false],
    ['', 1.4, true, false],
    ['edge', null, false, false],
  ])('side %j at %s %% is flagged under 2 %%', (subject, have, done, flagged) => {
    expect(sideFlag({ subject: subject === 'edge' ? '0' : '', have, done })).toBe(flagged)
  })
})

describe('amounts read as a tape does', () => {
  it('shows depth to the sixteenth, and keeps every eighth that was typed', () => {
    expect(say(0.115, 'depth', 'us')).toBe('4.5\u00a0in')
    expect(rounded(4.625 * 0.0254, shownAs('depth', 'us'))).toBeCloseTo(4.625, 9)
    expect(say(0.115, 'depth', 'metric')).toBe('115\u00a0mm')
  })
  it('says a run of cuts in whole inches or centimetres', () => {
    expect(sayRun(9.0123, 'us')).toBe('29\' 7"')
    expect(sayRun(9.0123, 'metric')).toBe('9.01\u00a0m')
  })
})
