import type { ReminderId } from '../../../shared/events'
import type { JobView } from '../../../shared/job'
import { Button, Notice, sayTime } from '../../look'
import { now } from '../../shell/now'
import { isFar } from '../../sync/far'
import { outlook, type Reminder } from '../../sync/outlook'
import { inLanguage, t } from '../../words'
import { act, takeBack } from '../act'
import { dayTimeOf, timeOf, whoWhen, zoneOf } from '../who'
import { comingReminders, openReminders, putOff, putOffUntil, seenReminders } from './state'

/** This job's reminders: seen with one touch, and who saw them. */
export function Reminders({ job }: { readonly job: JobView }) {
  // Checks and texturing are the pour's own hours: their screens and tones speak of them.
  const all = (outlook.value?.reminders ?? []).filter(({ what }) => what !== 'check' && what !== 'texture')
  const open = openReminders(all, job, now.value)
  const later = all.filter((one) => one.job === job.id && putOff(one, job, now.value, all))
  const seen = seenReminders(all, job)
  const coming = comingReminders(all, job, now.value)
  const none = !outlook.value ? 'nextDays.noOutlook' : isFar(outlook.value, job) ? 'now.not_here' : 'nextDays.noReminders'
  if (open.length + later.length + seen.length + coming.length === 0) return <p>{t(none)}</p>
  return (
    <section class="block" aria-labelledby="reminders">
      <h2 id="reminders">{t('nextDays.reminders')}</h2>
      {open.map((reminder) => <OpenReminder key={reminder.id} job={job} reminder={reminder} />)}
      {later.length > 0 && <ul class="rows">{later.map((reminder) => <LaterReminder key={reminder.id} job={job} reminder={reminder} />)}</ul>}
      {coming.length > 0 && (
        <ul class="rows">
          {coming.map((reminder) => (
            <li key={reminder.id}>
              <span class="full">
                {inLanguage(reminder.title)}
                <br />
                <span class="soft">{t('nextDays.dueAt', { at: dayTimeOf(job, reminder.due) })}</span>
                {reminder.moved_from && <span class="soft"> {t('nextDays.movedFrom', { at: dayTimeOf(job, reminder.moved_from) })}</span>}
              </span>
            </li>
          ))}
        </ul>
      )}
      <ul class="rows">{seen.map((reminder) => <SeenReminder key={reminder.id} job={job} reminder={reminder} />)}</ul>
    </section>
  )
}

function OpenReminder({ job, reminder }: { readonly job: JobView; readonly reminder: Reminder }) {
  const title = inLanguage(reminder.title)
  const until = putOffUntil(reminder, now.value)
  const tone = reminder.stage === 'missed' ? 'stop' : reminder.stage === 'last_call' ? 'warn' : 'plain'
  return (
    <Notice tone={tone} title={title}>
      <p><strong>{sayTime(now.value, reminder, zoneOf(job))}</strong></p>
      <p>{t(`nextDays.advice.${reminder.what}`)} <span class="soft">{t('nextDays.since', { at: dayTimeOf(job, reminder.due) })}</span></p>
      {reminder.moved_from && <p>{t('nextDays.movedFrom', { at: dayTimeOf(job, reminder.moved_from) })}</p>}
      <Button kind="main" label={`${t('nextDays.seen')}: ${title}`} onPress={() => void act(job.id, 'reminder.acknowledged', { reminder: reminder.id as ReminderId, via: 'app' }, t('nextDays.did.seen', { title }))}>
        {t('nextDays.seen')}
      </Button>
      {until && (
        <Button label={`${t('nextDays.later', { at: timeOf(job, until.toISOString()) })}: ${title}`} onPress={() => void act(job.id, 'reminder.snoozed', { reminder: reminder.id as ReminderId, until: until.toISOString() }, t('nextDays.did.later', { title }))}>
          {t('nextDays.later', { at: timeOf(job, until.toISOString()) })}
        </Button>
      )}
    </Notice>
  )
}

/** Put off, by whom and until when; one touch brings it back. */
function LaterReminder({ job, reminder }: { readonly job: JobView; readonly reminder: Reminder }) {
  const snooze = putOff(reminder, job, now.value, outlook.value?.reminders ?? [])
  const title = inLanguage(reminder.title)
  if (!snooze) return null
  return (
    <li>
      <span>
        {title} <span class="soft">{t('nextDays.putOff', { at: timeOf(job, snooze.until), who: whoWhen(job, snooze) })}</span>
      </span>
      <Button kind="quiet" label={`${t('record.takeBack')}: ${title}`} onPress={() => void takeBack(job.id, snooze.event, t('nextDays.did.notLater', { title }))}>{t('record.takeBack')}</Button>
    </li>
  )
}

function SeenReminder({ job, reminder }: { readonly job: JobView; readonly reminder: Reminder }) {
  const ack = job.acks[reminder.id as ReminderId]
  const title = inLanguage(reminder.title)
  return (
    <li>
      <span>
        {title} <span class="soft">{ack ? t('nextDays.seenBy', { who: whoWhen(job, ack) }) : t('nextDays.seenElse')}</span>
      </span>
      {ack && <Button kind="quiet" label={`${t('record.takeBack')}: ${title}`} onPress={() => void takeBack(job.id, ack.event, t('nextDays.did.unseen', { title }))}>{t('record.takeBack')}</Button>}
    </li>
  )
}
