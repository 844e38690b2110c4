import { signal, type ReadonlySignal } from '@preact/signals'
import type { Bodies, EventId, JobId, Kind } from '../../shared/events'
import { events, record, retract } from '../log/journal'
import { offerUndo } from '../log/undo'
import { standing } from './record/entries'
import { sayError } from '../shell/trouble'

const failed = signal<string | null>(null)
/** Why the last action could not be kept on this phone, or null. Shown on every phase screen. */
export const failure: ReadonlySignal<string | null> = failed

/** Runs something that writes to the log; when it could not be kept, `failure` says why and the answer is false. */
export async function attempt(write: () => Promise<unknown>): Promise<boolean> {
  try {
    await write()
    failed.value = null
    return true
  } catch (error) {
    failed.value = sayError(error)
    return false
  }
}

/** Records something done and offers to take it back. Null when it could not be kept. */
export async function act<K extends Kind>(job: JobId, kind: K, body: Bodies[K], label: string, at?: Date): Promise<EventId | null> {
  const event = await also(job, kind, body, at)
  if (event) offerUndo(job, event, label)
  return event
}

/** Records several entries that are one thing to a person: kept or not, what was written is taken back as one. */
export async function actAll<K extends Kind>(job: JobId, kind: K, bodies: readonly Bodies[K][], label: string): Promise<boolean> {
  const written: EventId[] = []
  const whole = await attempt(async () => {
    for (const body of bodies) written.push(await record(job, kind, body))
  })
  const [last, ...before] = [...written].reverse()
  if (last) offerUndo(job, last, label, before)
  return whole
}

/** Records without offering undo: for the parts of an action that is taken back as one. */
export async function also<K extends Kind>(job: JobId, kind: K, body: Bodies[K], at?: Date): Promise<EventId | null> {
  let event: EventId | null = null
  await attempt(async () => {
    event = await record(job, kind, body, at)
  })
  return event
}

/** Takes an entry back, and offers to bring it again: undoing a retract is a redo. */
export async function takeBack(job: JobId, event: EventId, label: string): Promise<boolean> {
  return attempt(async () => offerUndo(job, await retract(job, event), label))
}

/**
 * Takes a kept thing away for good: every version of it that still stands, oldest first, so that bringing back the
 * last one (which the undo offers) brings back what was seen.
 */
export async function removeKept<K extends Kind>(job: JobId, kind: K, mine: (body: Bodies[K]) => boolean, label: string): Promise<boolean> {
  return attempt(async () => {
    let last: EventId | null = null
    for (const event of standing(await events(job))) {
      if (event.kind === kind && mine(event.body as Bodies[K])) last = await retract(job, event.id)
    }
    if (last) offerUndo(job, last, label)
  })
}
