import { expect, test } from 'vitest'
import { sawBeside } from '../../../pwa/src/page/now/saw-close'
import type { LoadTimeline } from '../../../pwa/src/page/sync/contract'
import { readVectors } from '../shared/vectors'

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
