// @vitest-environment happy-dom
import { render } from 'preact'
import { act } from 'preact/test-utils'
import { afterEach, describe, expect, it, vi } from 'vitest'
import { SawPart } from '../../../pwa/src/page/phases/next-days/saw'
import { language, units } from '../../../pwa/src/page/shell/preferences'
import type { Warning } from '../../../pwa/src/page/sync/contract'
import { iso, job, jobOutlook, load, loadTimeline, outlook as told } from '../look/sample'

const outlook = vi.hoisted(() => ({ value: null as unknown }))
vi.mock('../../../pwa/src/page/sync/outlook', () => ({ outlook }))

const drop = (case_: string): Warning => ({
  code: 'first_night_drop', load: 'a', from: iso(15), to: iso(15), text: '',
  params: { case: case_, peak_c: 38, coldest_c: 12, drop_k: 8.333 },
})

const saw = (...warnings: Warning[]): string => {
  const look = jobOutlook([loadTimeline('a')])
  if (!look.timeline) throw new Error('the sample has a timeline')
  outlook.value = told({ j: { ...look, timeline: { ...look.timeline, warnings } } })
  void act(() => render(<SawPart job={job('j', { loads: [load('a', 1)] })} />, document.body))
  return document.body.textContent?.replaceAll('\u00a0', ' ') ?? ''
}

afterEach(() => {
  render(null, document.body)
  outlook.value = null
  language.value = 'en'
  units.value = 'us'
})

describe('the saw part', () => {
  it('names the first night’s drop, its hour and what to do, in both languages', () => {
    expect(saw(drop('in_time'))).toMatch(/falls from 100 °F to 54 °F; by .*10:00 pm it is 15 °F under its peak\. Cut before then/)
    language.value = 'es'
    units.value = 'metric'
    expect(saw(drop('too_late'))).toContain('la superficie baja de 38 °C a 12 °C')
  })

  it('says the soonest once for loads that fall within the same evening', () => {
    const later: Warning = { ...drop('in_time'), load: 'b', from: iso(16), to: iso(16), text: 'Later.' }
    const words = saw(later, drop('in_time'))
    expect(words.match(/falls from 100 °F/g)).toHaveLength(1)
    expect(words).toMatch(/by .*10:00 pm it is/)
  })

  it('tells of no other notice, and of no night where there is none', () => {
    const rain: Warning = { code: 'rain', load: null, from: iso(1), to: iso(2), text: 'Rain.', params: { rain_mm: 3 } }
    expect(saw(rain)).not.toMatch(/[Rr]ain|First night/)
  })
})
