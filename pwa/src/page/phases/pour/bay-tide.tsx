import type { JobView } from '../../../shared/job'
import { penetrationLevel, TideStrip, type TideRow } from '../../look'
import { now } from '../../shell/now'
import { outlook, type Timeline } from '../../sync/outlook'
import { t } from '../../words'
import { nextStep, stepWindow } from '../bay-state'
import { TEXTURE_STEPS } from '../steps'
import { zoneOf } from '../who'
import { isDown } from './fill'

const HALF_HOUR_MS = 30 * 60_000
/** How long a strip is at most: what comes later is not today's hand work. */
const MOST_MS = 14 * 3_600_000

/** Each placed bay's hours beside the plan: the window its next step by hand waits for. */
export function BayTide({ job }: { readonly job: JobView }) {
  const timeline = outlook.value?.jobs[job.id]?.timeline
  const rows = timeline ? tideRows(job, timeline) : []
  if (rows.length === 0) return null
  const times = rows.flatMap(({ window }) => (window ? [Date.parse(window.opens.early), Date.parse((window.closes ?? window.opens).late)] : []))
  const from = Math.min(now.value.getTime(), ...times) - HALF_HOUR_MS
  const to = Math.min(Math.max(now.value.getTime(), ...times) + HALF_HOUR_MS, from + MOST_MS)
  return <TideStrip rows={rows} from={new Date(from)} to={new Date(to)} now={now.value} timeZone={zoneOf(job)} title={t('pour.tide')} />
}

function tideRows(job: JobView, timeline: Timeline): TideRow[] {
  return job.bays.flatMap((bay) => {
    const load = job.loads.find((one) => one.id === bay.load)
    const step = nextStep(bay, TEXTURE_STEPS)?.step
    const window = step && stepWindow(timeline, bay.load, step)
    if (!load || !isDown(load) || !step || !window) return []
    const curve = timeline.loads.find((one) => one.id === bay.load)?.curve ?? []
    return [{ id: bay.id, label: t('pour.tideRow', { label: bay.label, step: t(`pour.step.${step}`) }), window, curve: curve.map((point) => ({ at: point.at, level: penetrationLevel(point.penetration_mpa) })) }]
  })
}
