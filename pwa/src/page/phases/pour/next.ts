/** The one thing to do next on the pour. SI; no DOM. */
import type { Bay, JobView, Load, StepName, Unticketed } from '../../../shared/job'
import { nextStep, stepWindow, type NextStep } from '../bay-state'
import { POUR_STEPS, TEXTURE_STEPS } from '../steps'
import type { Timeline, TimeWindow } from '../../sync/contract'
import { drumLimit, drumOf, placingPace, airNow, type Drum } from './drum'
import { fillOf, isDown, isFilled, isPlacing, nextArrival, type Arrival } from './fill'
import { matchWords, type MatchWord } from './match'

export type Next =
  | { readonly what: 'hold'; readonly load: Load; readonly word: MatchWord }
  | { readonly what: 'empty'; readonly load: Load; readonly drum: Drum }
  | { readonly what: 'place'; readonly load: Load; readonly drum: Drum }
  | { readonly what: 'ticket'; readonly load: Unticketed }
  | { readonly what: 'step'; readonly bay: Bay; readonly step: NextStep }
  | { readonly what: 'finish'; readonly load: Load }
  | { readonly what: 'coming'; readonly arrival: Arrival }
  | { readonly what: 'wait'; readonly bay: Bay; readonly step: StepName; readonly window: TimeWindow }
  | { readonly what: 'texture' }
  | { readonly what: 'nothing' }

const HURRY_MS = 15 * 60_000
/** Placed longer ago than that, a bay was struck off, whether it was written down or not (estimate). */
const STRUCK_MS = 45 * 60_000

/**
 * Concrete that must not leave its drum comes first, then a drum whose time runs out, then the slab: strike off and
 * bull float before bleed water shows. Then a truck that stands, a ticket that lacks, the truck to come, the next clock.
 */
export function nextOnPour(job: JobView, timeline: Timeline | null, now: Date): Next {
  const air_c = airNow(job.weather_notes, now)
  const limit = drumLimit(job.mix?.drum_limit_min, air_c)
  const pace = placingPace(job.loads)
  const drum = (load: Load): Drum => drumOf(load, limit, pace, now)
  const waiting = job.loads.filter((load) => !load.placed)
  const placing = job.loads.filter(isPlacing)
  for (const load of [...placing, ...waiting]) {
    const word = matchWords(load, { loads: job.loads, mix: job.mix, order: job.order, air_c, now }).find(({ tone }) => tone === 'hold')
    if (word) return { what: 'hold', load, word }
  }
  const late = placing.find((load) => drum(load).by.getTime() - now.getTime() < HURRY_MS)
  if (late) return { what: 'empty', load: late, drum: drum(late) }
  const floated = bayToFinish(job)
  if (floated) return floated
  const [stands] = waiting
  if (stands && placing.length === 0) return { what: 'place', load: stands, drum: drum(stands) }
  const [bare] = job.unticketed
  if (bare) return { what: 'ticket', load: bare }
  const [going] = placing
  const fresh = job.loads.filter((load) => load.placed && isDown(load) && now.getTime() - Date.parse(load.placed.to) < STRUCK_MS)
  const strike = bayToFill(job, [...placing, ...fresh], going !== undefined)
  if (strike) return strike
  if (going) return { what: 'finish', load: going }
  return afterTheTrucks(job, timeline, now)
}

/** A bay that is being struck off or floated, or that is struck off and waits for the bull float. */
function bayToFinish({ bays }: JobView): Next | null {
  const next = (bay: Bay): NextStep | null => nextStep(bay, POUR_STEPS)
  const bay = bays.find((one) => isFilled(one) && next(one)) ?? bays.find((one) => next(one)?.mark === 'end')
  const step = bay && next(bay)
  return step ? { what: 'step', bay, step } : null
}

/** The bay that concrete lies in unstruck: one of these loads', or the next in order where a truck is being placed and none says. */
function bayToFill({ bays }: JobView, loads: readonly Load[], any: boolean): Next | null {
  const open = bays.filter((bay) => nextStep(bay, POUR_STEPS)?.step === 'strike_off')
  const bay = open.find((one) => loads.some((load) => load.id === one.load)) ?? (any ? open[0] : undefined)
  const step = bay && nextStep(bay, POUR_STEPS)
  return step ? { what: 'step', bay, step } : null
}

function afterTheTrucks(job: JobView, timeline: Timeline | null, now: Date): Next {
  const arrival = nextArrival(job.order, job.loads, fillOf(job.slab, job.order, job.loads, job.bays))
  const hand = nextByHand(job, timeline)
  // Work that has opened, or opens before the truck, comes before the truck.
  if (hand && (!arrival || Date.parse(hand.window.opens.likely) < Math.max(arrival.at.getTime(), now.getTime()))) return hand
  if (arrival) return { what: 'coming', arrival }
  const poured = job.loads.length > 0 && job.loads.every(isDown)
  return { what: poured ? 'texture' : 'nothing' }
}

/** The bay whose next step by hand opens first. */
function nextByHand({ bays, loads }: JobView, timeline: Timeline | null): Extract<Next, { what: 'wait' }> | null {
  const due = bays.flatMap((bay) => {
    const step = nextStep(bay, TEXTURE_STEPS)?.step
    const window = step && loads.some((load) => load.id === bay.load && isDown(load)) ? stepWindow(timeline, bay.load, step) : null
    return step && window ? [{ what: 'wait' as const, bay, step, window }] : []
  })
  return due.sort((a, b) => Date.parse(a.window.opens.likely) - Date.parse(b.window.opens.likely))[0] ?? null
}
