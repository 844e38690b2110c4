import type { JobView } from '../../shared/job'
import { formatTime } from '../../shared/units'
import { sayMoment } from '../look'
import { now } from '../shell/now'
import { outlook } from '../sync/outlook'
import { me } from '../sync/session'
import { t } from '../words'
import { wallDate } from './wall-clock'

/** The name of whoever wrote an entry. */
export function nameOf(person: string): string {
  if (me.value?.person === person) return me.value.name
  return outlook.value?.people.find((one) => one.id === person)?.name ?? t('record.someone')
}

export function zoneOf(job: JobView): string {
  return job.opened?.time_zone ?? Intl.DateTimeFormat().resolvedOptions().timeZone
}

/** "8:10 am, Ana": times first. */
export function whoWhen(job: JobView, leaf: { readonly at: string; readonly author: string }): string {
  return `${momentOf(job, leaf.at)}, ${nameOf(leaf.author)}`
}

/** The time, with its day when that is not today: "8:10 am", "Tue 8:10 am". */
export function momentOf(job: JobView, at: string): string {
  return sayMoment(new Date(at), now.value, zoneOf(job))
}

export function timeOf(job: JobView, at: string): string {
  return formatTime(new Date(at), zoneOf(job))
}

/** "Jul 14, 8:10". */
export function dayTimeOf(job: JobView, at: string): string {
  const day = new Intl.DateTimeFormat(t('record.locale'), { timeZone: zoneOf(job), month: 'short', day: 'numeric' })
  return `${day.format(new Date(at))}, ${timeOf(job, at)}`
}

export function sameDay(job: JobView, one: Date, other: Date): boolean {
  return wallDate(one, zoneOf(job)) === wallDate(other, zoneOf(job))
}

/** Whether this person may set up the job (layout, mix, order, crew): the foreman, and the office where the log allows it. */
export function mayWrite(roles: readonly string[]): boolean {
  const role = me.value?.role
  return role !== undefined && roles.includes(role)
}
