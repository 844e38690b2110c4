/** Vectors are written short: what their events share is filled in here, and the same way on the server. */
import { readFileSync } from 'node:fs'
import { resolve } from 'node:path'
import type { Logged } from '../../../pwa/src/shared/event'
import type { DeviceId, EventId, JobId, PersonId } from '../../../pwa/src/shared/events'

export interface Short {
  readonly id: string
  readonly clock: string
  readonly kind: string
  readonly body: object
  readonly at?: string
}

export function readVectors<Vectors>(name: string): Vectors {
  return JSON.parse(readFileSync(resolve(import.meta.dirname, '../../vectors', `${name}.json`), 'utf8')) as Vectors
}

export const JOB = 'J' as JobId

export function filled(short: Short): Logged {
  const device = short.clock.slice(short.clock.lastIndexOf('-') + 1)
  return {
    id: short.id as EventId,
    job: JOB,
    kind: short.kind,
    body: short.body,
    at: short.at ?? '2026-07-14T12:00:00.000Z',
    clock: short.clock,
    device: device as DeviceId,
    author: `person-${device}` as PersonId,
  }
}
