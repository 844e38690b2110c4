/** What a load of this job is held against. No DOM. */
import type { JobView } from '../../../shared/job'
import { airNow } from './drum'
import type { Against } from './match'

export function against(job: Pick<JobView, 'loads' | 'mix' | 'order' | 'weather_notes'>, now: Date): Against {
  return { loads: job.loads, mix: job.mix, order: job.order, air_c: airNow(job.weather_notes, now), now }
}
