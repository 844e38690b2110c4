// @vitest-environment happy-dom
import { render } from 'preact'
import { act } from 'preact/test-utils'
import { afterEach, describe, expect, it } from 'vitest'
import { FillNow } from '../../../pwa/src/page/phases/pour/fill-now'
import { NextLine } from '../../../pwa/src/page/phases/pour/next-line'
import { language, units } from '../../../pwa/src/page/shell/preferences'
import type { JobView } from '../../../pwa/src/shared/job'
import { at, bay, bayId, ben, loadId, madeJob, order, placed, slab, ticket, type Entry } from './made-job'

const text = (job: JobView): string => {
  void act(() => render(<><NextLine job={job} /><FillNow job={job} /></>, document.body))
  return document.body.textContent?.replaceAll('\u00a0', ' ') ?? ''
}

afterEach(() => {
  render(null, document.body)
  language.value = 'en'
  units.value = 'us'
})

describe('the pour screen says', () => {
  it('what is left, what is on the truck, and to call now when it won’t reach', () => {
    const job = madeJob(slab(), order(3, 2), ticket(1), placed(1, 0, 20), ticket(2, { volume_m3: 1.2 }))
    expect(text(job)).toContain('2.22 yd³ left to fill, 1.57 yd³ on the trucks and on order: call now')
    expect(text(job)).toContain('Ask the plant for 0.75 yd³ more')
    units.value = 'metric'
    language.value = 'es'
    expect(text(job)).toContain('Faltan 1.7 m³, hay 1.2 m³ entre camiones y pedido: llame ya')
  })

  it('which last truck is enough, never less than is needed', () => {
    const struck = { kind: 'bay.worked', body: { bay: bayId(1), step: 'strike_off', mark: 'end' } } as const
    const job = madeJob(slab(), order(4.2, 2), bay(1, 0, 4, loadId(1)), bay(2, 4, 8), ticket(1), placed(1, 0, 20), struck)
    units.value = 'metric'
    expect(text(job)).toContain('Last truck: 1.75 m³ is enough instead of 2.6 m³')
  })

  it('nothing to the plant while a load may be written twice, but what to answer first', () => {
    const twice = [ticket(1), { ...ticket(2), body: { ...ticket(1).body, load: loadId(2), ticket: null }, author: ben } as Entry]
    const job = madeJob(slab(), order(3.2, 2), ...twice)
    expect(text(job)).toContain('A load may be counted twice here. Say above whether it is one truck.')
    expect(text(job)).not.toMatch(/call now|left in the drum/)
    language.value = 'es'
    expect(text(job)).toContain('Una carga puede estar contada dos veces aquí.')
    language.value = 'en'
    expect(text(madeJob(slab(), order(3.2, 2), ticket(1), ticket(2, { batched_at: at(-4) })))).toContain('call now')
  })

  it('the day of a truck that comes another day, and what its ticket is held against', () => {
    const ahead = { kind: 'order.placed', body: { volume_m3: 3.36, loads: 2, pour_at: new Date(Date.now() + 50 * 3_600_000).toISOString() } } as const
    expect(text(madeJob(slab(), ahead))).toMatch(/coming about [A-Z][a-z]{2} \d+:\d\d [ap]m\. Write its ticketOff the ticket .* against the mix and the order\./)
    language.value = 'es'
    expect(text(madeJob(slab(), ahead))).toMatch(/llegan 2\.2 yd³, aprox\. \p{L}{3} \d+:\d\d [ap]m\. .* se compara con la mezcla y el pedido/u)
  })

  it('first that a truck is late, and whom to ask', () => {
    expect(text(madeJob(slab(), { kind: 'order.placed', body: { volume_m3: 3.36, loads: 2, pour_at: new Date(Date.now() - 3_600_000).toISOString() } }))).toMatch(/^NextLoad 1: 2\.2 yd³ was due about .+ Ask the plant/)
  })
})
