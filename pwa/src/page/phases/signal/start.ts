/** Watches every open job's clocks while the app stands: gives each signal once, keeps the screen on through a pour. */
import { computed, effect, signal, untracked, type ReadonlySignal } from '@preact/signals'
import { jobs } from '../../log/journal'
import { now } from '../../shell/now'
import { awakeChoice, tones } from '../../shell/preferences'
import { outlook } from '../../sync/outlook'
import { me } from '../../sync/state'
import { phoneAwakeHost, pourIsOpen, ScreenKeeper } from './awake'
import { byUrgency, signalsNow, type Signal, type SignalWhat } from './events'
import { takeNew } from './remember'
import { phoneHost, Voice } from './voice'

const standing = signal<readonly Signal[]>([])
/** What was signalled and is still true, until someone has read it. */
export const said: ReadonlySignal<readonly Signal[]> = standing
const heard = signal(false)
/** Whether a tone would be heard: browsers want a touch first. */
export const canSound: ReadonlySignal<boolean> = heard

const working = computed(() => me.value?.role === 'crew' || me.value?.role === 'foreman')
const due = computed(() => (working.value ? jobs.value.flatMap((job) => signalsNow(job, outlook.value?.jobs[job.id]?.timeline ?? null, now.value)) : []))
const pouring = computed(() => working.value && jobs.value.some((job) => pourIsOpen(job, now.value)))

let voice: Voice | null = null

/** The shell calls it once, when the app stands. Returns how to stop. */
export function startSignals(): () => void {
  const mine = new Voice(phoneHost())
  voice = mine
  const unlock = (): void => void mine.unlock().then(() => { heard.value = mine.canSound }, (error: unknown) => console.warn(error))
  for (const touch of ['pointerup', 'keydown'] as const) addEventListener(touch, unlock, { capture: true, passive: true })
  const keeper = new ScreenKeeper(phoneAwakeHost())
  const stops = [
    effect(() => void keeper.want(pouring.value && awakeChoice.value === 'on').catch((error: unknown) => console.warn(error))),
    effect(() => {
      const all = due.value
      untracked(() => give(all, mine))
    }),
  ]
  return () => {
    for (const stop of stops) stop()
    for (const touch of ['pointerup', 'keydown'] as const) removeEventListener(touch, unlock, { capture: true })
  }
}

/** A page that nobody sees keeps quiet, and tells when it is looked at again. */
function give(all: readonly Signal[], mine: Voice): void {
  const stillTrue = standing.value.filter(({ id }) => all.some((one) => one.id === id))
  if (stillTrue.length !== standing.value.length) standing.value = stillTrue
  if (document.visibilityState !== 'visible') return
  const fresh = takeNew(all.map(({ id }) => id), now.peek())
  if (fresh.length === 0) return
  const news = all.filter(({ id }) => fresh.includes(id))
  standing.value = [...standing.value, ...news]
  if (tones.peek() === 'on') mine.give(loudest(news))
}

/** Several at once sound as the one that waits least. */
const loudest = (news: readonly Signal[]): SignalWhat => byUrgency(news)[0]?.what ?? 'opens'

export function dismiss(id: string): void {
  standing.value = standing.value.filter((one) => one.id !== id)
}

/** Lets someone hear and feel what is meant; the touch that asks also unlocks the sound. */
export async function tryOut(): Promise<void> {
  await voice?.unlock()
  heard.value = voice?.canSound ?? false
  voice?.give('opens')
}
