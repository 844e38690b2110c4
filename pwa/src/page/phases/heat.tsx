import type { JobView } from '../../shared/job'
import { Care } from '../look'
import { now } from '../shell/now'
import { outlook, type Timeline } from '../sync/outlook'

const AHEAD_MS = 12 * 3_600_000
/** From this air temperature on heat is worth a word, whatever the humidity (80 °F, where the heat index table of the US National Weather Service begins; from memory, not verified). */
const WARM_C = 80 / 1.8 - 32 / 1.8

/** Whether heat asks for care within the next hours: the engine says so, or it was read on the slab, or nobody knows. */
export function heatAsks(job: Pick<JobView, 'weather_notes'>, timeline: Timeline | null, moment: Date): boolean {
  const note = job.weather_notes[job.weather_notes.length - 1]
  if (note && note.air_temp_c !== null && note.air_temp_c >= WARM_C && moment.getTime() - Date.parse(note.at) < AHEAD_MS) return true
  if (!timeline) return true
  return timeline.warnings.some(({ code, from, to }) => code === 'heat_stress' && Date.parse(to) > moment.getTime() && Date.parse(from) < moment.getTime() + AHEAD_MS)
}

export function HeatCare({ job }: { readonly job: JobView }) {
  return heatAsks(job, outlook.value?.jobs[job.id]?.timeline ?? null, now.value) ? <Care what="heat" /> : null
}
