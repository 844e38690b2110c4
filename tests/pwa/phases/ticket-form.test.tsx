// @vitest-environment happy-dom
import { render } from 'preact'
import { act } from 'preact/test-utils'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { TicketForm } from '../../../pwa/src/page/phases/pour/ticket-form'
import { language, units } from '../../../pwa/src/page/shell/preferences'
import { madeJob, order, placed, slab, ticket } from './made-job'

const job = madeJob(slab(), order(3.36, 2), ticket(1, { volume_m3: 1.6, slump_mm: 101.6 }), placed(1, -20, -5))

const field = (name: string): HTMLInputElement => {
  const label = [...document.querySelectorAll('label')].find((one) => one.textContent === name)
  const found = label && document.getElementById(label.htmlFor)
  if (!(found instanceof HTMLInputElement)) throw new Error(`no field ${name}`)
  return found
}
const key = (name: string): HTMLElement => {
  const found = [...document.querySelectorAll<HTMLElement>('button')].find((one) => (one.getAttribute('aria-label') ?? one.textContent) === name)
  if (!found) throw new Error(`no key ${name}`)
  return found
}
const press = (...names: string[]): void => {
  for (const name of names) void act(() => key(name).click())
}
const enter = (name: string): void => void act(() => field(name).focus())
const draw = (): void => void act(() => render(<TicketForm job={job} onDone={vi.fn()} />, document.body))
const rest = (ms: number): void => void act(() => { vi.advanceTimersByTime(ms) })
const said = (): string => document.body.textContent?.replaceAll('\u00a0', ' ') ?? ''

beforeEach(() => {
  vi.useFakeTimers()
  localStorage.clear()
  language.value = 'en'
  units.value = 'us'
  vi.stubGlobal('matchMedia', () => ({ matches: true }))
  draw()
})
afterEach(() => {
  render(null, document.body)
  vi.useRealTimers()
  vi.unstubAllGlobals()
})

describe('a ticket written by thumb', () => {
  it('brings its own keys and keeps the phone’s away', () => {
    expect(document.querySelector('.pad')).toBeNull()
    enter('Slump')
    expect(document.querySelector('.pad')?.getAttribute('aria-label')).toBe('Number keys: Slump')
    expect(field('Slump').inputMode).toBe('none')
  })

  it('goes from field to field with Next, each key in the field in hand', () => {
    enter('Volume')
    press('2', 'Decimal point', '5', 'Next', '4', 'Next')
    expect([field('Volume').value, field('Slump').value]).toEqual(['2.5', '4'])
    expect(document.activeElement).toBe(field('Concrete temperature'))
  })

  it('is kept key by key, so that nothing typed is lost with the page', () => {
    enter('Slump')
    press('5')
    void act(() => render(null, document.body))
    draw()
    expect(field('Slump').value).toBe('5')
  })

  it('takes the last load’s value with one touch', () => {
    enter('Slump')
    press('As load 1: 4\u00a0in')
    expect(field('Slump').value).toBe('4')
  })

  it('goes on to the next field with a value taken, and a glove’s second touch takes none there', () => {
    enter('Slump')
    press('As load 1: 4\u00a0in')
    expect(document.activeElement).toBe(field('Concrete temperature'))
    press('Next')
    press('None')
    expect(field('Water added on site').value).toBe('')
    rest(600)
    press('None')
    expect(field('Water added on site').value).toBe('0')
    expect(document.activeElement).toBe(field('Water allowed'))
  })

  it('says while it is typed what must be asked before discharge, once the fingers rest', () => {
    enter('Slump')
    press('6')
    expect(said()).not.toContain('load 1 was')
    rest(800)
    expect(said()).toContain('Slump 6 in, load 1 was 4 in')
    press('Delete the last digit', '4')
    rest(800)
    expect(said()).not.toContain('load 1 was')
  })

  it('says of an impossible number what is wrong when the field is left, not while it is typed', () => {
    enter('Volume')
    press('6', '0')
    expect(said()).not.toContain('No truck carries that')
    void act(() => field('Volume').blur())
    rest(10)
    expect(said()).toContain('No truck carries that')
  })

  it('can be typed with a keyboard as well', () => {
    const slump = field('Slump')
    void act(() => {
      slump.focus()
      slump.value = '3.5'
      slump.dispatchEvent(new Event('input', { bubbles: true }))
      slump.dispatchEvent(new KeyboardEvent('keydown', { key: 'Enter', bubbles: true }))
    })
    expect(slump.value).toBe('3.5')
    expect(document.activeElement).toBe(field('Concrete temperature'))
  })
})
