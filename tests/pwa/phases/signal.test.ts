import { describe, expect, it, vi } from 'vitest'
import { awake, pourIsOpen, ScreenKeeper, type AwakeHost } from '../../../pwa/src/page/phases/signal/awake'
import { byUrgency, driedAt, releaseDry, RELEASE_FILM_KG_M2, signalsNow } from '../../../pwa/src/page/phases/signal/events'
import { takeNew, type Shelf } from '../../../pwa/src/page/phases/signal/remember'
import { BUZZES, TONES, Voice } from '../../../pwa/src/page/phases/signal/voice'
import type { CurvePoint, Timeline } from '../../../pwa/src/page/sync/contract'
import { at, bay, bayId, loadId, madeJob, MORNING, placed, ticket, type Entry } from './made-job'

const minute = (minutes: number): Date => new Date(MORNING + minutes * 60_000)
const when = (minutes: number) => ({ early: at(minutes - 10), likely: at(minutes), late: at(minutes + 10) })
/** Opens at 60, closes at 160 (early 150, so closing from 132); dries at half a kilogram an hour. */
const timeline: Timeline = {
  version: 1, pace: null, slots: {}, warnings: [],
  loads: [{ id: loadId(1), windows: { texture: { opens: when(60), closes: when(160) } }, curve: Array.from({ length: 60 }, (_, i) => ({ at: at(i * 5), evaporation_kg_m2_h: 0.5 }) as CurvePoint) }],
}
const pour: Entry[] = [ticket(1), placed(1, -20, -10), bay(1, 0, 4, loadId(1)), bay(2, 4, 8, loadId(1))]
const said = (minutes: number, ...more: Entry[]): string[] => signalsNow(madeJob(...pour, ...more), timeline, minute(minutes)).map(({ bay: label, what }) => `${label} ${what}`)
const step = (mark: 'start' | 'end'): Entry => ({ kind: 'bay.worked', body: { bay: bayId(1), step: 'texture', mark }, minutes: 70 })
const release = (mass_kg: number | null): Entry => ({ kind: 'release.laid', body: { bay: bayId(1), mass_kg }, minutes: 80 })

describe('a bay’s clock speaks up', () => {
  it('when it opens and when it is closing, and not before, between or after', () => {
    expect([said(59), said(60), said(131), said(132), said(160)]).toEqual([[], ['A opens', 'B opens'], ['A opens', 'B opens'], ['A closing', 'B closing'], []])
  })

  it('of what is left to do only', () => {
    expect(said(80, step('start'))).toEqual(['B opens'])
    expect(said(140, step('end'))).toEqual(['B closing'])
  })

  it('when liquid release has dried off: 0.2 kg/m² at 0.5 kg/m²h is 24 min', () => {
    expect(said(103, release(null))).toEqual(['A opens', 'B opens'])
    expect(said(104, release(null))).toContain('A dry')
    expect(said(104, release(9))).not.toContain('A dry') // weighed powder does not dry
    expect(said(104, release(null), step('start'))).not.toContain('A dry')
  })

  it('of liquid alone: powder does not dry, weighed or not, nor what is laid beside it without a word', () => {
    const laid = (n: number, what: 'powder' | 'liquid' | null): Entry => ({ kind: 'release.laid', body: { bay: bayId(n), what }, minutes: 80 })
    const ticked: Entry = { kind: 'bay.worked', body: { bay: bayId(1), step: 'release', mark: 'end' }, minutes: 80 }
    expect(said(104, laid(1, 'liquid'))).toContain('A dry')
    expect(said(104, laid(1, 'powder'))).not.toContain('A dry')
    expect(said(104, ticked)).toContain('A dry') // nobody said which: rather once too often
    expect(said(104, ticked, laid(2, 'powder'))).not.toContain('A dry')
    expect(said(104, ticked, laid(2, 'liquid'))).toContain('A dry')
  })

  it('of release again once it was laid again', () => {
    const again: Entry = { kind: 'release.laid', body: { bay: bayId(1) }, minutes: 110 }
    const dry = (minutes: number, ...more: Entry[]): string[] => signalsNow(madeJob(...pour, ...more), timeline, minute(minutes)).filter(({ what }) => what === 'dry').map(({ id }) => id)
    expect(dry(120, release(null), again)).toEqual([])
    expect(dry(134, release(null), again)).toHaveLength(1)
    expect(dry(134, release(null), again)).not.toEqual(dry(104, release(null)))
  })

  it('is read first where it waits least: closing before opening, then the window that ends first', () => {
    const of = (id: string, what: 'opens' | 'closing' | 'dry', closes: number) => ({ id, job: madeJob().id, what, bay: null, load: 1, at: minute(0), closes: minute(closes) })
    const all = [of('a', 'dry', 1), of('b', 'opens', 9), of('c', 'closing', 8), of('d', 'closing', 7)]
    expect(byUrgency(all).map(({ id }) => id)).toEqual(['d', 'c', 'b', 'a'])
  })

  it('says nothing of planned concrete, nor of a closed job', () => {
    expect(signalsNow(madeJob(...pour), { ...timeline, planned: true }, minute(70))).toEqual([])
    expect(signalsNow(madeJob(ticket(1), bay(1, 0, 4, loadId(1))), timeline, minute(70))).toEqual([])
    expect(said(70, { kind: 'job.closed', body: {} })).toEqual([])
  })

  it('keeps its name when the times move, so that it is told once', () => {
    const later = { ...timeline, loads: timeline.loads.map((load) => ({ ...load, windows: { texture: { opens: when(65), closes: when(170) } } })) }
    const names = (of: Timeline, minutes: number): string[] => signalsNow(madeJob(...pour), of, minute(minutes)).map(({ id }) => id)
    expect(names(timeline, 70)).toEqual(names(later, 70))
    expect(new Set([...names(timeline, 70), ...names(timeline, 140)]).size).toBe(4)
  })
})

describe('drying', () => {
  const steps = (...rates: number[]): CurvePoint[] => rates.map((rate, i) => ({ at: at(i * 60), evaporation_kg_m2_h: rate }) as CurvePoint)
  it('adds up over changing weather, from when the release was laid', () => {
    expect(driedAt(steps(0.1, 0.2, 0.4, 0), MORNING, 0.3)).toBe(minute(120).getTime())
    expect(driedAt(steps(0.1, 0.2, 0.4, 0), minute(90).getTime(), 0.2)).toBe(minute(135).getTime())
  })
  it('has no answer past the curve, before it, or without release', () => {
    expect(driedAt(steps(0.1, 0.1, 0.1), MORNING, RELEASE_FILM_KG_M2 + 0.01)).toBeNull()
    expect(driedAt([], MORNING, 0.2)).toBeNull()
    expect(releaseDry({ release: null, release_at: null }, steps(1, 1))).toBeNull()
  })
})

describe('each signal comes once', () => {
  const shelf = (): Shelf & { text: string | null } => ({ text: null, getItem() { return this.text }, setItem(_key, text) { this.text = text } })

  it('also after a reload, and forgets after three days', () => {
    const kept = shelf()
    expect(takeNew(['a', 'b'], minute(0), kept)).toEqual(['a', 'b'])
    expect(takeNew(['a', 'b', 'c'], minute(1), kept)).toEqual(['c'])
    takeNew(['d'], minute(3 * 24 * 60), kept)
    expect(Object.keys(JSON.parse(kept.text ?? ''))).toEqual(['c', 'd'])
  })

  it('and says it again rather than never when what was kept can’t be read', () => {
    const kept = shelf()
    kept.text = '{broken'
    expect(takeNew(['a'], minute(0), kept)).toEqual(['a'])
  })

  it('holds for the page where there is no storage', () => {
    const full: Shelf = { getItem: () => null, setItem: () => { throw new Error('full') } }
    expect(takeNew(['only here'], minute(0), full)).toEqual(['only here'])
    expect(takeNew(['only here'], minute(1), full)).toEqual([])
  })
})

describe('the voice', () => {
  const fakeAudio = (state: 'running' | 'suspended') => {
    const started: number[] = []
    const audio = {
      state, currentTime: 5, destination: {},
      resume: vi.fn(async () => { audio.state = 'running' }),
      createOscillator: () => ({ frequency: { value: 0 }, connect: (to: unknown) => to, start: (time: number) => started.push(time), stop: vi.fn() }),
      createGain: () => ({ gain: { setValueAtTime: vi.fn(), linearRampToValueAtTime: vi.fn() }, connect: vi.fn() }),
    }
    return { audio, started }
  }

  it('buzzes and sounds as many notes as the signal has', async () => {
    const { audio, started } = fakeAudio('suspended')
    const vibrate = vi.fn(() => true)
    const voice = new Voice({ makeAudio: () => audio as unknown as AudioContext, vibrate })
    await voice.unlock()
    voice.give('closing')
    expect(voice.canSound).toBe(true)
    expect(vibrate).toHaveBeenCalledWith([...BUZZES.closing])
    expect(started).toEqual(TONES.closing.map(({ at: from }) => 5 + from))
  })

  it('still buzzes before the first touch, and never throws where there is neither', () => {
    const vibrate = vi.fn(() => true)
    new Voice({ makeAudio: () => fakeAudio('suspended').audio as unknown as AudioContext, vibrate }).give('opens')
    expect(vibrate).toHaveBeenCalledOnce()
    new Voice({ makeAudio: null, vibrate: null }).give('opens')
  })

  it('has a pattern of its own for each signal, by tone and by buzz alone', () => {
    const all = ['opens', 'closing', 'dry'] as const
    expect(new Set(all.map((what) => JSON.stringify(TONES[what]))).size).toBe(3)
    expect(new Set(all.map((what) => JSON.stringify(BUZZES[what]))).size).toBe(3)
  })
})

describe('the screen stays on', () => {
  const fakeHost = (more: { level?: number; charging?: boolean; refuse?: boolean } = {}) => {
    const heard = new Map<string, () => void>()
    const locks: { released: boolean }[] = []
    const battery = { level: more.level ?? 1, charging: more.charging ?? false, addEventListener: (type: string, go: () => void) => void heard.set(type, go) }
    const page = { visibilityState: 'visible' as DocumentVisibilityState, addEventListener: (type: string, go: () => void) => void heard.set(type, go) }
    const request = vi.fn(async () => {
      if (more.refuse) throw new Error('not now')
      const lock = { released: false, release: async () => { lock.released = true }, addEventListener: () => undefined }
      locks.push(lock)
      return lock
    })
    const host = { lock: { request }, battery: async () => battery, page } as unknown as AwakeHost
    return { host, locks, battery, page, request, tell: async (type: string) => { heard.get(type)?.(); await settle() } }
  }
  const settle = () => new Promise((resolve) => setTimeout(resolve))

  it('while wanted, and lets go after', async () => {
    const { host, locks } = fakeHost()
    const keeper = new ScreenKeeper(host)
    await keeper.want(true)
    await keeper.want(true)
    expect([locks.length, awake.value]).toEqual([1, 'held'])
    await keeper.want(false)
    expect([locks[0]?.released, awake.value]).toEqual([true, 'idle'])
  })

  it('is asked for again when the page comes back', async () => {
    const { host, locks, page, tell } = fakeHost()
    await new ScreenKeeper(host).want(true)
    page.visibilityState = 'hidden'
    locks[0]!.released = true // browsers do so for a hidden page
    await tell('visibilitychange')
    expect(locks).toHaveLength(1)
    page.visibilityState = 'visible'
    await tell('visibilitychange')
    expect(locks).toHaveLength(2)
  })

  it('not at the price of a low battery, unless it is on a cable', async () => {
    const { host, battery, locks, tell } = fakeHost()
    await new ScreenKeeper(host).want(true)
    battery.level = 0.2
    await tell('levelchange')
    expect([locks[0]?.released, awake.value]).toEqual([true, 'battery'])
    battery.charging = true
    await tell('chargingchange')
    expect([locks.length, awake.value]).toEqual([2, 'held'])
  })

  it('or says that this phone does not allow it', async () => {
    await new ScreenKeeper(fakeHost({ refuse: true }).host).want(true)
    await settle()
    expect(awake.value).toBe('refused')
    await new ScreenKeeper({ ...fakeHost().host, lock: null }).want(true)
    expect(awake.value).toBe('unsupported')
  })

  it('from the first ticket until every bay is textured, 12 h at most', () => {
    const job = madeJob(...pour) // batched half an hour before
    expect([-31, -30, 600, 12 * 60 - 30, 12 * 60 - 29].map((minutes) => pourIsOpen(job, minute(minutes)))).toEqual([false, true, true, true, false])
    const end = (n: number): Entry => ({ kind: 'bay.worked', body: { bay: bayId(n), step: 'texture', mark: 'end' } })
    expect(pourIsOpen(madeJob(...pour, end(1)), minute(60))).toBe(true)
    expect(pourIsOpen(madeJob(...pour, end(1), end(2)), minute(60))).toBe(false)
    expect(pourIsOpen(madeJob(bay(1, 0, 4)), minute(0))).toBe(false)
  })
})
