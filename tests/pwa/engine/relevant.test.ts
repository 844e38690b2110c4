// What the times rest on: a change of any of it has them worked out anew.
import { expect, it } from 'vitest'
import type { CoverId } from '../../../pwa/src/shared/events'
import { restsOn } from '../../../pwa/src/page/engine/relevant'
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
