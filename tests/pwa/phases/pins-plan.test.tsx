// @vitest-environment happy-dom
import { render } from 'preact'
import { act } from 'preact/test-utils'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { PinWalk } from '../../../pwa/src/page/phases/pins'
import { chooseWay, takeWayBack } from '../../../pwa/src/page/phases/pins/turn'
import { language, units } from '../../../pwa/src/page/shell/preferences'
import { bay, madeJob, pinId, slab, type Entry } from './made-job'

// House along side 0, so that three sides are left to go by: side 1 of 3 is the right end.
const drop = (n: number, x: number): Entry => ({ kind: 'pin.dropped', body: { pin: pinId(n), spot: [x, 2], what: 'crack', bay: null } })
const job = madeJob(slab(), bay(1, 0, 4), bay(2, 4, 8), drop(1, 7), drop(2, 1))

let clock = 10_000
const keys = (): HTMLElement[] => [...document.querySelectorAll('button')]
const key = (name: string): HTMLElement => {
  const found = keys().find((one) => (one.getAttribute('aria-label') ?? one.textContent)?.replaceAll('\u00a0', ' ') === name)
  if (!found) throw new Error(`no key ${name} among ${keys().map((one) => one.textContent).join(' | ')}`)
  return found
}
const has = (name: string): boolean => keys().some((one) => one.textContent?.replaceAll('\u00a0', ' ') === name)
/** A touch long after the one before. */
const touch = (name: string): void => {
  clock += 2_000
  bounce(name)
}
const bounce = (name: string): void => send(key(name), new MouseEvent('click', { bubbles: true, detail: 1 }))
const send = (to: Element | null, event: Event): void => void act(() => { to?.dispatchEvent(event) })
const pressKey = (to: Element | null, name: string): void => send(to, new KeyboardEvent('keydown', { key: name, bubbles: true }))
const plan = (): Element | null => document.querySelector('[role=application]')
const said = (): string => document.body.textContent?.replaceAll('\u00a0', ' ') ?? ''
const order = (): string[] => [...document.querySelectorAll('.pin-row strong')].map((one) => one.textContent ?? '')
const draw = (): void => void act(() => render(<PinWalk job={job} of={() => true} />, document.body))

beforeEach(() => {
  localStorage.clear()
  language.value = 'en'
  units.value = 'metric'
  vi.spyOn(performance, 'now').mockImplementation(() => clock)
  draw()
})
afterEach(() => {
  render(null, document.body)
  vi.restoreAllMocks()
})

describe('the plan of the touch-up pass', () => {
  it('is the only one, and takes pins', () => {
    expect(document.querySelectorAll('.plan-drawing')).toHaveLength(1)
    expect(said()).toContain('Touch the plan to drop a pin')
    expect(has('Drop the pin')).toBe(false)
    pressKey(plan(), 'ArrowLeft')
    expect(said()).toContain('The spot is set; another touch moves it. Say what it is')
    expect(has('Drop the pin')).toBe(true)
    touch('Don’t drop it')
    expect(has('Drop the pin')).toBe(false)
    expect(Object.keys(localStorage).filter((name) => name.startsWith('slabtide.draft.'))).toEqual([])
  })

  it('is taken over by the way out when that is asked for, and takes pins again by itself', () => {
    expect(order()).toEqual(['2. Crack', '1. Crack'])
    touch('Choose the way out')
    expect(document.querySelectorAll('.plan-drawing')).toHaveLength(1)
    expect(plan()).toBeNull()
    expect(document.activeElement?.textContent).toBe('Which side do you leave by?')
    expect(said()).not.toContain('marked “out”') // the plan shows numbers now
    expect(key('Side 1: 4 m').getAttribute('aria-pressed')).toBe('true')
    touch('Side 3: 4 m')
    expect(plan()).not.toBeNull()
    expect(said()).toContain('side 3 of 3')
    expect(order()).toEqual(['1. Crack', '2. Crack'])
  })

  it('has the way out taken back with one touch, and brought again with another', () => {
    touch('Choose the way out')
    touch('Side 3: 4 m')
    touch('Back to side 1')
    expect(order()).toEqual(['2. Crack', '1. Crack'])
    touch('Back to side 3')
    expect(order()).toEqual(['1. Crack', '2. Crack'])
  })

  it('stays as it was when the question is left, by its key or by Escape', () => {
    touch('Choose the way out')
    touch('Leave it at side 1')
    touch('Choose the way out')
    pressKey(document.querySelector('#way-out'), 'Escape')
    expect(plan()).not.toBeNull()
    expect(order()).toEqual(['2. Crack', '1. Crack'])
    expect(keys().some((one) => one.textContent?.startsWith('Back to'))).toBe(false)
  })

  it('keeps a pin that is being dropped while the way out is chosen', () => {
    pressKey(plan(), 'ArrowLeft')
    touch('Choose the way out')
    expect(has('Drop the pin')).toBe(false)
    touch('Side 2: 8 m')
    expect(has('Drop the pin')).toBe(true)
  })

  it('does not take a glove’s second touch for a choice, but takes a key of the keyboard at once', () => {
    touch('Choose the way out')
    bounce('Side 3: 4 m')
    expect(plan()).toBeNull()
    void act(() => key('Side 3: 4 m').click())
    expect(said()).toContain('side 3 of 3')
  })

  it('asks in Spanish too', () => {
    language.value = 'es'
    draw()
    touch('Elegir por dónde salir')
    expect(said()).toContain('¿Por qué lado sale?')
    touch('Lado 2: 8 m')
    expect(said()).toContain('lado 2 de 3')
    expect(has('Volver al lado 1')).toBe(true)
  })
})

describe('the choice of a way', () => {
  it('keeps the one before, and the same side again loses nothing', () => {
    const chosen = chooseWay({ side: null, before: null }, 1, 3)
    expect(chosen).toEqual({ side: 3, before: 1 })
    expect(chooseWay(chosen, 3, 3)).toEqual(chosen)
    expect(takeWayBack(chosen)).toEqual({ side: 1, before: 3 })
    expect(takeWayBack({ side: null, before: null })).toEqual({ side: null, before: null })
  })
})
