import { describe, expect, it } from 'vitest'
import { LISTS, CHECKLISTS } from '../../../pwa/src/shared/checklists'
import { RULES, type Kind, type PersonId } from '../../../pwa/src/shared/events'
import { BAY_STEPS, bayStates } from '../../../pwa/src/page/phases/bay-state'
import { comingReminders, cutFault, freshCut, guideDepth, nextCoat, openReminders, putOffUntil, readSaw, sawWindows, seenReminders, tooShallow, usualSealer_l } from '../../../pwa/src/page/phases/next-days/state'
import { describe as inWords } from '../../../pwa/src/page/phases/record/describe'
import { hiddenBy, recordLines, standing } from '../../../pwa/src/page/phases/record/entries'
import { photosOf, totals } from '../../../pwa/src/page/phases/record/totals'
import { fallWord, nextLabel, readForms, readSlope } from '../../../pwa/src/page/phases/ready/state'
import { bayPasses, checkWord, loadOf, releaseLines } from '../../../pwa/src/page/phases/texture/state'
import type { Reminder, Timeline } from '../../../pwa/src/page/sync/contract'
import { ready as enReady } from '../../../pwa/src/page/words/en/ready'
import { ana, at, bay, bayId, ben, eventId, eventsOf, loadId, madeJob, MORNING, pinId, placed, pointId, slab, ticket, type Entry } from './made-job'

const now = new Date(MORNING)
const shot = (n: number, x: number, y: number, reading_m: number): Entry => ({ kind: 'level.shot', body: { point: pointId(n), label: `P${n}`, spot: [x, y], reading_m } })
/** Shots on a plane that falls `percent` away from the house (y = 0). */
const away = (percent: number): Entry[] => ([[0, 0], [8, 0], [8, 4], [0, 4]] as const).map(([x, y], i) => shot(i + 1, x, y, 1 + (y * percent) / 100))

describe('forms', () => {
  const point = (n: number, height_m: number | null, depth_m: number | null, firm: boolean | null): Entry => ({ kind: 'form.measured', body: { point: pointId(n), label: `P${n}`, spot: [n, 0], height_m, depth_m, firm } })

  it('say how far their tops differ, where it is thin and what moves', () => {
    const job = madeJob(slab(), point(1, 0, 0.1, true), point(2, 0.006, 0.092, true), point(3, -0.004, 0.095, false))
    expect(readForms(job.forms, 0.1)).toEqual({ spread_m: 0.01, highest: 'P2', lowest: 'P3', thin: [{ label: 'P2', depth_m: 0.092 }], loose: ['P3'] })
  })

  it('say nothing from one height', () => {
    expect(readForms(madeJob(point(1, 0, null, null)).forms, 0.1)).toEqual({ spread_m: null, highest: null, lowest: null, thin: [], loose: [] })
  })

  it('label the next point past the highest used', () => {
    expect(nextLabel([{ label: 'P2' }, { label: 'by the gate' }, { label: 'P9' }])).toBe('P10')
    expect(nextLabel([])).toBe('P1')
  })
})

describe('slope', () => {
  it('falls away from the house toward the far side', () => {
    const reading = readSlope(madeJob(slab(), ...away(1.8)))
    expect(reading?.fall_percent).toBeCloseTo(1.8, 6)
    expect(reading?.toward).toBe(2)
    expect(reading?.faces[0]).toMatchObject({ against: 'House', word: 'slight' })
    expect(reading?.low).toEqual([])
  })

  it('is called by name when it runs to the house', () => {
    const reading = readSlope(madeJob(slab(), ...away(-1.5)))
    expect(reading?.toward).toBe(0)
    expect(reading?.faces[0]?.word).toBe('toward')
  })

  it('finds the low spot and not the others', () => {
    expect(readSlope(madeJob(slab(), ...away(2), shot(5, 4, 2, 1.04 + 0.02)))?.low.map((one) => one.label)).toEqual(['P5'])
  })

  it('waits for four shots that do not stand in one line', () => {
    expect(readSlope(madeJob(slab(), ...away(2).slice(0, 3)))).toBeNull()
    expect(readSlope(madeJob(slab(), ...[0, 1, 2, 3].map((i) => shot(i + 1, i, 0, 1))))).toBeNull()
  })

  it.each([[-1, 'toward'], [0.4, 'flat'], [1, 'slight'], [1.99, 'slight'], [2, 'good'], [5, 'good']])('calls %d %% %s', (percent, word) => {
    expect(fallWord(percent)).toBe(word)
  })

  it('flags what an accessible route may not have (1:48)', () => {
    expect(readSlope(madeJob(slab(), ...away(2.08)))?.over_accessible).toBe(false)
    expect(readSlope(madeJob(slab(), ...away(2.1)))?.over_accessible).toBe(true)
  })
})

describe('texture', () => {
  it('ties a check to the load of its bay, or to the only load', () => {
    const job = madeJob(bay(1, 0, 4, loadId(2)), bay(2, 4, 8), ticket(1), ticket(2))
    expect(loadOf(job, bayId(1))?.number).toBe(2)
    expect(loadOf(job, bayId(2))).toBeNull()
    expect(loadOf(madeJob(bay(2, 4, 8), ticket(1)), bayId(2))?.number).toBe(1)
  })

  it.each([['footprint', 13, 'soft'], ['footprint', 6, 'begin'], ['footprint', 0, 'firm'], ['mat_sticks', null, 'soft'], ['mat_clean', null, 'begin'], ['mat_refused', null, 'firm']] as const)(
    'reads %s %s as %s', (kind, depth_mm, word) => {
      expect(checkWord({ kind, depth_mm })).toBe(word)
    },
  )

  it('counts the minutes since release was laid, by bay', () => {
    const job = madeJob(bay(1, 0, 4), bay(2, 4, 8), { kind: 'release.laid', body: { bay: bayId(1) }, minutes: -25 })
    expect(releaseLines(job.bays, now).map((line) => line.minutes)).toEqual([25, null])
  })

  const pin = (n: number, what: 'thin_texture' | 'debris', of: number | null): Entry => ({ kind: 'pin.dropped', body: { pin: pinId(n), spot: [1, 1], what, bay: of === null ? null : bayId(of) } })
  const passed = (n: number): Entry => ({ kind: 'bay.worked', body: { bay: bayId(n), step: 'touch_up', mark: 'end' } })

  it('passes bays with work left, by where a pin lies when nobody named its bay; debris and closed pins apart', () => {
    const job = madeJob(bay(1, 0, 3), bay(2, 3, 6), bay(3, 6, 8), pin(1, 'thin_texture', 3), pin(2, 'debris', 1), pin(3, 'thin_texture', null), pin(4, 'thin_texture', 1),
      { kind: 'pin.closed', body: { pin: pinId(4) } }, passed(1), passed(3))
    expect(bayPasses(job).map((pass) => [pass.bay.label, pass.open])).toEqual([['A', 1], ['B', 0], ['C', 1]])
  })
})

const when = (minutes: number) => ({ early: at(minutes - 10), likely: at(minutes), late: at(minutes + 10) })
const sure = (minutes: number) => ({ early: at(minutes), likely: at(minutes), late: at(minutes) })
const timeline = (loads: Timeline['loads'], slots: Timeline['slots'] = {}): Timeline => ({ version: 1, loads, pace: null, slots, warnings: [] })

it('gives a bay a word only once its concrete is in', () => {
  const clock = timeline([{ id: loadId(1), windows: { texture: { opens: when(-60), closes: when(90) } }, curve: [] }, { id: loadId(2), windows: { texture: { opens: when(60), closes: when(120) } }, curve: [] }])
  const entries = [bay(1, 0, 4, loadId(1)), bay(2, 4, 8, loadId(2)), ticket(1), ticket(2), placed(1, -200, -190)]
  expect([...bayStates(madeJob(...entries), clock, now).values()]).toEqual(['ready', 'empty'])
  const done = madeJob(...entries, { kind: 'bay.worked', body: { bay: bayId(1), step: 'texture', mark: 'end' } })
  expect(bayStates(done, clock, now).get(bayId(1))).toBe('textured')
  expect(bayStates(madeJob(...entries), null, now).get(bayId(1))).toBe('placed')
})

it('gives a bay the word of the step a touch would start, as the row beside the plan does', () => {
  const windows = { edge: { opens: when(-60), closes: when(5) }, texture: { opens: when(30), closes: when(90) } }
  const clock = timeline([{ id: loadId(1), windows, curve: [] }])
  const entries = [bay(1, 0, 4, loadId(1)), ticket(1), placed(1, -200, -190)]
  const worked = (step: 'strike_off' | 'bull_float' | 'edge' | 'mag', mark: 'start' | 'end' = 'end'): Entry => ({ kind: 'bay.worked', body: { bay: bayId(1), step, mark } })
  const word = (...more: Entry[]) => bayStates(madeJob(...entries, ...more), clock, now, BAY_STEPS).get(bayId(1))
  expect(word()).toBe('placed') // strike-off waits for no clock
  expect(word(worked('strike_off'), worked('bull_float'))).toBe('closing')
  expect(word(worked('edge', 'start'))).toBe('closing')
  expect(word(worked('mag'))).toBe('too_soft') // the release keeps the mats' clock
})

describe('the next days', () => {
  const cut = (length_m: number, more: { ravelled?: boolean; last?: boolean } = {}): Entry => ({ kind: 'cut.made', body: { length_m, saw: 'conventional', ...more } })

  it('count what is left to saw, from the lines between bays when nobody said', () => {
    const job = madeJob(slab(), bay(1, 0, 4), bay(2, 4, 8), cut(1.5))
    expect(readSaw(job)).toEqual({ cut_m: 1.5, planned_m: 4, left_m: 2.5, done: false, ravelled: false })
    expect(readSaw(madeJob(cut(1.5), cut(2, { last: true, ravelled: true })))).toMatchObject({ planned_m: null, left_m: null, done: true, ravelled: true })
  })

  it('offer last time’s depth, else the guide', () => {
    expect(freshCut(madeJob(slab({ thickness_m: 0.15 })))).toMatchObject({ depth_m: 0.0375, saw: 'conventional' })
    expect(guideDepth(madeJob(slab({ thickness_m: 0.15 })), 'early-entry')).toBeCloseTo(0.0254, 9)
  })

  it('refuse a cut without length or through the slab, and remark on a shallow one', () => {
    const job = madeJob(slab())
    const draft = { length_m: 3, depth_m: 0.026, saw: 'conventional', ravelled: false } as const
    expect(cutFault(draft, job)).toBeNull()
    expect(cutFault({ ...draft, length_m: null }, job)).toBe('length')
    expect(cutFault({ ...draft, depth_m: 0.1 }, job)).toBe('through')
    expect([tooShallow(draft, job), tooShallow({ ...draft, depth_m: 0.02 }, job)]).toEqual([false, true])
  })

  it('put the saw window that closes first on top', () => {
    const both = timeline([{ id: 'late', windows: { saw: { opens: when(0), closes: when(300) } }, curve: [] }, { id: 'soon', windows: { saw: { opens: when(60), closes: when(200) } }, curve: [] }, { id: 'none', windows: { saw: null }, curve: [] }])
    expect(sawWindows(madeJob(), both).map((one) => one.load)).toEqual(['soon', 'late'])
  })

  it('close a load’s saw by the handbooks where they are sooner, say so, and put it where it then belongs', () => {
    const handbook = { opens: at(0), closes: at(180), surface_drop: null, source: 'ACI 302.1R-15' }
    const both = timeline([{ id: 'ours', windows: { saw: { opens: when(0), closes: when(200) } }, curve: [] }, { id: 'theirs', windows: { saw: { opens: when(0), closes: when(300) } }, curve: [], saw_practice: handbook }])
    const found = sawWindows(madeJob(), both)
    expect(found.map((one) => [one.load, one.byHandbook])).toEqual([['theirs', true], ['ours', false]])
    expect(found[0]?.window.closes?.likely).toBe(handbook.closes)
  })

  it('saw the whole slab by practice where no times are worked out', () => {
    const found = sawWindows(madeJob(ticket(1), placed(1, -200, -190)), null)
    expect(found).toEqual([{ load: null, window: { opens: sure(50), closes: sure(530) }, byHandbook: true }])
    expect(sawWindows(madeJob(), null)).toEqual([])
  })

  it('let go of a reminder as soon as this phone says it was seen, and leave last calls out of what comes', () => {
    const job = madeJob({ kind: 'reminder.acknowledged', body: { reminder: 'r1' as never, via: 'app' } })
    const reminder = (id: string, state: Reminder['state'], stage: Reminder['stage'], of: string = job.id): Reminder => ({ id, job: of as typeof job.id, what: 'saw', subject: '', stage, due: at(10), opens: when(10), closes: null, expires: at(60), state, moved_from: null, acknowledged: null, title: { en: '', es: '' }, words: { en: '', es: '' } })
    const all = [reminder('r1', 'sent', 'open'), reminder('r2', 'sent', 'last_call'), reminder('r3', 'planned', 'open'), reminder('r4', 'planned', 'missed'), reminder('r5', 'sent', 'open', 'other'), reminder('r6', 'cancelled', 'open')]
    expect(openReminders(all, job, now).map((one) => one.id)).toEqual(['r2'])
    expect(comingReminders(all, job, now).map((one) => one.id)).toEqual(['r3'])
    expect(seenReminders(all, job).map((one) => one.id)).toEqual(['r1'])
  })

  it('let go of a reminder that ran out, but still show what never could be told', () => {
    const job = madeJob()
    const reminder = (id: string, state: Reminder['state']): Reminder => ({ id, job: job.id, what: 'saw', subject: '', stage: 'open', due: at(-60), opens: when(-60), closes: when(-30), expires: at(20), state, moved_from: null, acknowledged: null, title: { en: '', es: '' }, words: { en: '', es: '' } })
    const all = (['planned', 'due', 'sent', 'failed', 'missed'] as const).map((state) => reminder(state, state))
    expect(openReminders(all, job, now).map((one) => one.id)).toEqual(['planned', 'due', 'sent', 'failed', 'missed'])
    expect(openReminders(all, job, new Date(MORNING + 20 * 60_000)).map((one) => one.id)).toEqual(['missed'])
  })

  it('keep a reminder quiet while it is put off, and bring it back after', () => {
    const job = madeJob({ kind: 'reminder.snoozed', body: { reminder: 'r1' as never, until: at(20) } })
    const one = { id: 'r1', job: job.id, what: 'saw', subject: '', stage: 'open', due: at(0), opens: when(0), closes: when(120), expires: at(130), state: 'sent', moved_from: null, acknowledged: null, title: { en: '', es: '' }, words: { en: '', es: '' } } as const
    expect(openReminders([one], job, now)).toEqual([])
    expect(openReminders([one], job, new Date(MORNING + 20 * 60_000))).toEqual([one])
  })

  it('put off half an hour at most, and never into the end of the window', () => {
    const until = (closes: number | null, stage: Reminder['stage'] = 'open') => putOffUntil({ closes: closes === null ? null : when(closes), stage }, now)?.toISOString() ?? null
    expect(until(null)).toBe(at(30))
    expect(until(200)).toBe(at(30))
    expect(until(45)).toBe(at(20))
    expect(until(28)).toBeNull()
    expect(until(null, 'missed')).toBeNull()
  })

  it('count coats to four and no further', () => {
    expect([nextCoat([]), nextCoat([{ coat: 1 }, { coat: 2 }]), nextCoat([{ coat: 4 }])]).toEqual([1, 3, null])
  })

  it('give 1 to 2 gallons a coat for 300 ft²', () => {
    const [least, most] = usualSealer_l(300 * 0.09290304)
    expect(least / 3.785411784).toBeCloseTo(1, 9)
    expect(most / 3.785411784).toBeCloseTo(2, 9)
  })
})

describe('the record', () => {
  const note = (text: string, author?: PersonId): Entry => ({ kind: 'note.written', body: { text }, ...(author ? { author } : {}) })
  const back = (index: number, author?: PersonId): Entry => ({ kind: 'event.retracted', body: { event: eventId(index) }, ...(author ? { author } : {}) })

  it('hides what was taken back, and shows it again when the taking back is', () => {
    const once = eventsOf([note('a'), note('b'), back(0)])
    expect(standing(once).map((event) => event.id)).toEqual([eventId(1)])
    const twice = eventsOf([note('a'), note('b'), back(0), back(2)])
    expect(standing(twice).map((event) => event.id)).toEqual([eventId(0), eventId(1)])
    expect(hiddenBy(twice).get(eventId(2))).toBe(eventId(3))
  })

  it('agrees with the log’s own fold', () => {
    const entries = [note('a'), note('b'), back(0), back(2), back(1), back(4), back(5), note('c')]
    expect(standing(eventsOf(entries)).filter((event) => event.kind === 'note.written')).toHaveLength(madeJob(...entries).notes.length)
  })

  it('lets crew take back their own entries only', () => {
    const log = eventsOf([note('mine'), note('hers', ben)])
    expect(recordLines(log, ana, 'crew').map((line) => line.undo)).toEqual([eventId(0), null])
    expect(recordLines(log, ana, 'foreman').map((line) => line.undo)).toEqual([eventId(0), eventId(1)])
    expect(recordLines(log, null, null).map((line) => line.undo)).toEqual([null, null])
  })

  it('brings back by taking back the retract', () => {
    expect(recordLines(eventsOf([note('a'), back(0)]), ana, 'crew')).toMatchObject([{ hidden: true, undo: eventId(1) }])
  })

  it('totals only what is on the slab', () => {
    const job = madeJob(slab(), bay(1, 0, 8, loadId(1)), ticket(1, { water_added_l: 8 }), placed(1, 0, 15), ticket(2), placed(2, 20, 20),
      { kind: 'bay.worked', body: { bay: bayId(1), step: 'texture', mark: 'end' }, minutes: 210 })
    expect(totals(job)).toMatchObject({ placed_m3: 1.6, loads: 1, water_l: 8, batch_to_texture_min: 240 })
  })

  it('shows each photo once', () => {
    const job = madeJob({ kind: 'photo.taken', body: { photo: 'ab' as never, caption: 'gate' } }, { kind: 'pin.dropped', body: { pin: pinId(1), spot: [0, 0], what: 'crack', photo: 'ab' as never } }, { kind: 'pin.dropped', body: { pin: pinId(2), spot: [0, 0], what: 'crack', photo: 'cd' as never } })
    expect(photosOf(job).map((one) => one.photo)).toEqual(['ab', 'cd'])
  })

  it('has words for every kind of entry, and leaves no slot unfilled', () => {
    const job = madeJob(slab(), bay(1, 0, 8, loadId(1)), ticket(1))
    const bodies: Partial<Record<Kind, object>> = {
      'job.opened': { name: 'Birch', time_zone: 'UTC', use: 'patio', latitude_deg: 0, longitude_deg: 0 }, 'mix.chosen': { name: 'M' }, 'order.placed': { volume_m3: 3, loads: 2, pour_at: at(0) }, 'crew.assigned': { people: 4 },
      'load.placed': { load: loadId(1), from: at(0), to: at(9) }, 'bay.worked': { bay: bayId(1), step: 'edge', mark: 'start' }, 'check.made': { load: loadId(1), kind: 'footprint', depth_mm: 6 }, 'weather.planned': { days: [] }, 'weather.noted': { air_temp_c: 20 },
      'item.ticked': { list: 'forms', item: 'square', subject: '', done: true }, 'form.measured': { point: pointId(1), label: 'P1', spot: [0, 0], height_m: 0 }, 'joint.checked': { edge: 0, full_depth: true, continuous: false }, 'level.shot': { point: pointId(1), label: 'P1', spot: [0, 0], reading_m: 1 },
      'release.laid': { bay: bayId(1) }, 'pin.dropped': { pin: pinId(1), spot: [0, 0], what: 'crack' }, 'pin.closed': { pin: pinId(1) }, 'photo.taken': { photo: 'ab' }, 'stage.reached': { phase: 'next_days' }, 'cut.made': { length_m: 2, saw: 'early-entry', last: true },
      'wash.done': { contained: true }, 'colour.applied': {}, 'coat.sealed': { coat: 1 }, 'reminder.acknowledged': { reminder: 'r', via: 'app' }, 'reminder.snoozed': { reminder: 'r', until: at(0) }, 'note.written': { text: 'n' }, 'job.closed': {}, 'event.retracted': { event: eventId(0) },
      'load.merged': { load: loadId(2), into: loadId(1) }, 'cover.laid': { cover: 'c', cover_kind: 'wet', load: loadId(1) }, 'cover.lifted': { cover: 'c' }, 'pin.assigned': { pin: pinId(1), person: ana }, 'product.chosen': { work: 'seal', low_c: 10 }, 'sheet.tested': { laid_at: at(0), dry: false },
      'slot.kept': { work: 'seal', coat: 1, from: at(0), to: at(60) }, 'cut.planned': { cut: 'k', from: [0, 0], to: [3, 4], order: 1 }, 'cut.tested': { result: 'slight', saw: 'early-entry', bay: bayId(1) }, 'callback.noted': { what: 'scaling' }, 'learning.set_aside': { why: 'rain' }, 'care.set': { walk_h: 24, reseal_months: 24 },
    }
    for (const kind of Object.keys(RULES) as Kind[]) {
      const kept = eventsOf([slab(), bay(1, 0, 8), ticket(1)]).find((event) => event.kind === kind)
      const event = kept ?? eventsOf([{ kind, body: bodies[kind] } as Entry])[0]
      const words = event ? inWords(event, job) : ''
      expect(words, kind).toMatch(/^[^{}]{3,}$/)
      expect(words, kind).not.toMatch(/undefined|null|NaN|[:,]$/)
    }
  })

  it('names an entry of a kind it does not know', () => {
    const [odd] = eventsOf([{ kind: 'slab.polished', body: {} } as unknown as Entry])
    expect(odd && inWords(odd, madeJob())).toContain('slab.polished')
  })
})

it('has words for every line of every checklist', () => {
  const known = enReady as Readonly<Record<string, string>>
  for (const list of LISTS) for (const { slug } of CHECKLISTS[list]) expect(known[`ready.item.${list}.${slug}`], `${list}/${slug}`).toBeTruthy()
})
