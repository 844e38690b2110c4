import type { ReminderId } from '../../../shared/events'
import type { JobView } from '../../../shared/job'
import { Button, Notice } from '../../look'
import { outlook, type Reminder } from '../../sync/outlook'
import { inLanguage, t } from '../../words'
import { act, takeBack } from '../act'
import { dayTimeOf, whoWhen } from '../who'
import { comingReminders, openReminders, seenReminders } from './state'

/** This job's reminders: seen with one touch, and who saw them. */
export function Reminders({ job }: { readonly job: JobView }) {
  const all = outlook.value?.reminders ?? []
  const open = openReminders(all, job)
  const seen = seenReminders(all, job)
  const coming = comingReminders(all, job)
  if (open.length + seen.length + coming.length === 0) return <p>{t(outlook.value ? 'nextDays.noReminders' : 'nextDays.noOutlook')}</p>
  return (
    <section class="block" aria-labelledby="reminders">
      <h2 id="reminders">{t('nextDays.reminders')}</h2>
      {open.map((reminder) => <OpenReminder key={reminder.id} job={job} reminder={reminder} />)}
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
  const tone = reminder.stage === 'missed' ? 'stop' : reminder.stage === 'last_call' ? 'warn' : 'plain'
  return (
    <Notice tone={tone} title={title}>
      <p>{inLanguage(reminder.words)}</p>
      <p>{t('nextDays.since', { at: dayTimeOf(job, reminder.due) })}</p>
      {reminder.moved_from && <p>{t('nextDays.movedFrom', { at: dayTimeOf(job, reminder.moved_from) })}</p>}
      <Button kind="main" label={`${t('nextDays.seen')}: ${title}`} onPress={() => void act(job.id, 'reminder.acknowledged', { reminder: reminder.id as ReminderId, via: 'app' }, t('nextDays.did.seen', { title }))}>
        {t('nextDays.seen')}
      </Button>
    </Notice>
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
