import { describe, expect, it } from 'vitest'
import { batchText, readBatchTime } from '../../../pwa/src/page/phases/pour/batch-time'
import { pressKey, type PadKey } from '../../../pwa/src/page/phases/pour/keys'
import { offersFor } from '../../../pwa/src/page/phases/pour/offers'
import { freshTicket } from '../../../pwa/src/page/phases/pour/ticket'
import { loadId, madeJob, order, ticket } from './made-job'

const zone = 'America/Chicago'
/** Ten past two in the afternoon in Chicago. */
const near = new Date('2026-07-14T19:10:00Z')

describe('a batch time', () => {
  it.each([
    ['810', '13:10'], ['8:10', '13:10'], ['08:10', '13:10'], ['8:10 pm', '01:10'], ['8:10p', '01:10'], ['150', '18:50'], ['1:50', '18:50'],
    ['13:50', '18:50'], ['1350', '18:50'], ['1230', '17:30'], ['12:05 am', '05:05'], ['0005', '05:05'], ['230', '19:30'],
  ])('%s at ten past two is %s UTC', (text, utc) => {
    expect(readBatchTime(text, near, zone)?.toISOString().slice(11, 16)).toBe(utc)
  })

  it('is last night’s just after midnight', () => {
    expect(readBatchTime('1150', new Date('2026-07-14T05:10:00Z'), zone)?.toISOString()).toBe('2026-07-14T04:50:00.000Z')
  })

  it.each(['', '8', '25:00', '870', '13:10 pm', 'eight'])('is not read from "%s"', (text) => {
    expect(readBatchTime(text, near, zone)).toBeNull()
  })

  it('is shown so that it reads back as itself', () => {
    const text = batchText(near.toISOString(), zone)
    expect(text).toBe('2:10 pm')
    expect(readBatchTime(text, near, zone)).toEqual(near)
  })
})

describe('the keys', () => {
  const typed = (...keys: PadKey[]): string => keys.reduce((text, key) => pressKey(text, key, { point: true, fresh: false }), '')

  it('write a decimal with one point', () => {
    expect(typed('7', '.', '2', '.', '5')).toBe('7.25')
    expect(typed('.', '5')).toBe('0.5')
    expect(typed('0', '4')).toBe('4')
  })

  it('take the last digit back, or all', () => {
    expect(typed('7', '5', 'back')).toBe('7')
    expect(typed('7', '5', 'clear')).toBe('')
  })

  it('replace what stood there with the first digit, and clear it with the first back', () => {
    expect(pressKey('5.5', '4', { point: true, fresh: true })).toBe('4')
    expect(pressKey('5.5', 'back', { point: true, fresh: true })).toBe('')
  })

  it('give whole numbers no point, and stop before nonsense', () => {
    expect(pressKey('81', '.', { point: false, fresh: false })).toBe('81')
    expect(pressKey('1234567', '8', { point: true, fresh: false })).toBe('1234567')
  })
})

describe('values one touch away', () => {
  const job = madeJob(order(12, 2), ticket(1, { volume_m3: 6, slump_mm: 100, colour_bags: 6 }), ticket(2, { volume_m3: 5, slump_mm: 110, concrete_temp_c: 25 }))
  const offered = (field: Parameters<typeof offersFor>[0], draft = freshTicket(job.loads)) => offersFor(field, draft, job).map(({ value, from, load }) => [value, load ?? from])

  it('are the last load’s, load 1’s and the order’s, each once and never what stands there', () => {
    expect(offered('slump_mm')).toEqual([[110, 2], [100, 1]])
    expect(offered('volume_m3')).toEqual([[6, 1]])
    expect(offered('concrete_temp_c')).toEqual([[25, 2]])
    expect(offered('water_added_l')).toEqual([[0, 'none']])
  })

  it('make the colour like load 1’s for this volume', () => {
    expect(offered('colour_bags', { ...freshTicket(job.loads), volume_m3: 3 })).toEqual([[3, 1]])
  })

  it('come from other loads only', () => {
    expect(offersFor('slump_mm', freshTicket(job.loads), job, loadId(2)).map((one) => one.load)).toEqual([1])
  })
})
