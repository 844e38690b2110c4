import { describe, expect, it } from 'vitest'
import { heatAsks, heatHours, hottest, levelOf } from '../../../pwa/src/page/phases/heat/hours'
import type { Felt, Timeline } from '../../../pwa/src/page/sync/contract'

const from = Date.UTC(2026, 6, 14, 12)
const felt: Felt = {
  from: new Date(from).toISOString(),
  air_temp_c: Array.from({ length: 24 }, (_, i) => 20 + i),
  feels_c: Array.from({ length: 24 }, (_, i) => 21 + i),
  moderate_min: Array.from({ length: 24 }, (_, i) => (i > 12 ? 30 : 60)),
  heavy_min: Array.from({ length: 24 }, (_, i) => (i > 10 ? 20 : 60)),
}
const hour = (hours: number): Date => new Date(from + hours * 3_600_000)
const calm = { warnings: [] } as unknown as Timeline

describe('heat by the hour', () => {
  it('begins with the hour it is, and goes eight hours ahead', () => {
    const hours = heatHours(felt, hour(2.5), 'moderate')
    expect(hours.map(({ feels_c }) => feels_c)).toEqual([23, 24, 25, 26, 27, 28, 29, 30])
    expect(hours[0]?.at).toEqual(hour(2))
    expect(hottest(hours)?.feels_c).toBe(30)
  })

  it('asks more rest at the screed than at the mats', () => {
    expect(heatHours(felt, hour(11), 'heavy')[0]?.work_min).toBe(20)
    expect(heatHours(felt, hour(11), 'moderate')[0]?.work_min).toBe(60)
  })

  it('says nothing where the weather told does not reach', () => {
    expect(heatHours(felt, hour(30), 'heavy')).toEqual([])
    expect(heatHours(null, hour(0), 'heavy')).toEqual([])
    expect(hottest([])).toBeNull()
  })

  it.each([[90, 'lower'], [91, 'moderate'], [102.4, 'moderate'], [103, 'high'], [114, 'high'], [115, 'extreme']] as const)('calls %d °F %s (OSHA’s tiers)', (fahrenheit, level) => {
    expect(levelOf((fahrenheit - 32) / 1.8)).toBe(level)
  })

  it('asks for care from 80 °F on, and wherever the chart asks for rest', () => {
    const cool = heatHours(felt, hour(0), 'moderate').slice(0, 3)
    expect(heatAsks({ weather_notes: [] }, calm, hour(0), cool)).toBe(false)
    expect(heatAsks({ weather_notes: [] }, null, hour(0), cool)).toBe(false)
    expect(heatAsks({ weather_notes: [] }, calm, hour(6), heatHours(felt, hour(6), 'moderate'))).toBe(true)
    expect(heatAsks({ weather_notes: [] }, calm, hour(0), cool.map((one) => ({ ...one, work_min: 45 })))).toBe(true)
  })
})
