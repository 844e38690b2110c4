// What the times rest on: a change of any of it has them worked out anew.
import { describe, expect, it } from 'vitest'
import type { CoverId } from '../../../pwa/src/shared/events'
import type { JobView } from '../../../pwa/src/shared/job'
import { restsOn, worthWorking } from '../../../pwa/src/page/engine/relevant'
import type { WorkedHere } from '../../../pwa/src/page/sync/worked'
import { iso, job, jobOutlook, loadTimeline, outlook } from '../look/sample'
import { at, bay, bayId, loadId, madeJob, placed, slab, ticket, type Entry } from '../phases/made-job'

const before: readonly Entry[] = [slab(), ticket(1), ticket(2), placed(1, 0, 20)]
const cover = 'c' as CoverId
const changes: readonly Entry[] = [
  { kind: 'cover.laid', body: { cover, cover_kind: 'blanket' } },
  { kind: 'load.merged', body: { load: loadId(2), into: loadId(1) } },
  { kind: 'product.chosen', body: { work: 'seal', low_c: 12 } },
  { kind: 'sheet.tested', body: { laid_at: at(0), dry: false } },
  { kind: 'slot.kept', body: { work: 'seal', coat: 1, from: at(0), to: at(60) } },
  { kind: 'cut.tested', body: { result: 'ravels', saw: 'early-entry' } },
  { kind: 'slab.outlined', body: { corners: [[0, 0], [8, 0], [8, 4], [0, 4]], thickness_m: 0.1, insulation_r_m2k_w: 0, ground_temp_c: 15, solar_absorptivity: 0.7, abutting: [{ edge: 0, against: 'House', bonded: true }] } },
]

it.each(changes.map((change) => [change.kind, change] as const))('%s has the times worked out anew', (_, change) => {
  expect(restsOn(madeJob(...before, change))).not.toBe(restsOn(madeJob(...before)))
})

it('the first mat on a bay, and its last, have them worked out anew: the crew has got on', () => {
  const drawn = [...before, bay(1, 0, 4, loadId(1))]
  const mark = (which: 'start' | 'end'): Entry => ({ kind: 'bay.worked', body: { bay: bayId(1), step: 'texture', mark: which } })
  const texts = [drawn, [...drawn, mark('start')], [...drawn, mark('start'), mark('end')]].map((entries) => restsOn(madeJob(...entries)))
  expect(new Set(texts).size).toBe(3)
})

it('a note does not', () => {
  expect(restsOn(madeJob(...before, { kind: 'note.written', body: { text: 'n' } }))).toBe(restsOn(madeJob(...before)))
})

describe('of thousands of jobs', () => {
  const [oak, pine, elm] = ['Oak', 'Pine', 'Elm'].map((id) => job(id)) as [JobView, JobView, JobView]
  const told = { ...outlook({ Oak: jobOutlook([loadTimeline('a')]) }), carried: ['Oak'], left_out: 2 }
  const own = (hours: number) => ({ Pine: { worked_at: iso(hours) } as WorkedHere })
  const names = (...asked: Parameters<typeof worthWorking>): string[] => worthWorking(...asked).map(({ name }) => name)
  const nothingWaits = (): boolean => false

  it('only those the server told of are worked out', () => {
    expect(names([oak, pine, elm], told, {}, nothingWaits)).toEqual(['Oak'])
  })

  it('so is one that waits here with entries of this phone, and one begun since', () => {
    const begun = job('Fir', { opened: { ...oak.opened, at: iso(4) } })
    expect(names([oak, pine, elm, begun], told, {}, (id) => id === pine.id)).toEqual(['Oak', 'Pine', 'Fir'])
  })

  it('one worked out since the server told is kept right, one worked out before is let go', () => {
    expect(names([oak, pine, elm], told, own(4), nothingWaits)).toEqual(['Oak', 'Pine'])
    expect(names([oak, pine, elm], told, own(2), nothingWaits)).toEqual(['Oak'])
  })

  it('a small company, an older server and a phone not told yet leave none out', () => {
    const { carried: _carried, left_out: _left, ...old } = told
    for (const server of [{ ...told, left_out: 0 }, old, null]) expect(names([oak, pine, elm], server, {}, nothingWaits)).toEqual(['Oak', 'Pine', 'Elm'])
  })
})
