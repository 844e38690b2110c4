import type { JobView } from '../../shared/job';
import { Button, sayMoment } from '../look';
import { isAsking } from '../now/state';
import { coatOf, loadOf } from '../now/tasks';
import type { Reminder } from '../sync/contract';
import { outlook } from '../sync/outlook';
import { inLanguage, t } from '../words';
import { acknowledge } from './acknowledge';
import { Part } from './job-parts';
import { personName, zoneOf } from './say';

/** What became of every reminder of the job, in order of time; those in nobody's hand can be taken in hand here. */
export function RemindersPart({ job, told, now }: { job: JobView; told: readonly Reminder[]; now: Date }) {
  const reminders = [...told].sort((a, b) => Date.parse(a.due) - Date.parse(b.due));
  return (
    <Part title={t('office.reminders')}>
      {reminders.length === 0 && <p>{t(job.closed ? 'office.reminders.closed' : 'office.reminders.none')}</p>}
      {reminders.length > 0 && (
        <div class="scroll-x" tabIndex={0} role="group" aria-label={t('office.reminders')}>
          <table class="office-table">
            <thead>
              <tr>
                <th scope="col">{t('office.col.what')}</th>
                <th scope="col">{t('office.col.due')}</th>
                <th scope="col">{t('office.col.life')}</th>
              </tr>
            </thead>
            <tbody>
              {reminders.map((reminder) => (
                <ReminderRow key={reminder.id} job={job} reminder={reminder} now={now} />
              ))}
            </tbody>
          </table>
        </div>
      )}
    </Part>
  );
}

function ReminderRow({ job, reminder, now }: { job: JobView; reminder: Reminder; now: Date }) {
  const zone = zoneOf(job.id);
  const coat = coatOf(reminder);
  const load = loadOf(reminder);
  const of = coat === null ? t(`office.what.${reminder.what}`) : t('now.what.seal', { coat });
  const what = load === null ? of : `${of}, ${t('signal.load', { number: load })}`;
  const title = inLanguage(reminder.title);
  return (
    <tr>
      <th scope="row">
        <a class="board-item" href={`#/office/reminder/${reminder.id}`}>{what}</a>
        <span class="board-line soft">{t(`office.stage.${reminder.stage}`)}</span>
      </th>
      <td>
        {sayMoment(new Date(reminder.due), now, zone)}
        {reminder.moved_from && (
          <span class="board-line soft">
            {t('office.life.moved', { time: sayMoment(new Date(reminder.moved_from), now, zone) })}
          </span>
        )}
      </td>
      <td>
        <span class="board-line">{sayLife(job, reminder, now)}</span>
        {isAsking(job, reminder, now) && (
          <Button label={t('office.have_it.name', { title })} onPress={() => void acknowledge(reminder)}>
            {t('office.have_it')}
          </Button>
        )}
      </td>
    </tr>
  );
}

/** The state of a reminder in words; this device's own log is ahead of the server's word. */
export function sayLife(job: JobView, reminder: Reminder, now: Date): string {
  const zone = zoneOf(job.id);
  const own = Object.entries(job.acks).find(([id]) => id === reminder.id)?.[1];
  const ack = reminder.acknowledged ?? own;
  if (ack) {
    const who = personName(ack.by, outlook.value);
    return t('office.life.acknowledged', { who, time: sayMoment(new Date(ack.at), now, zone) });
  }
  if (reminder.state === 'acknowledged') return t('office.life.sent');
  return t(`office.life.${reminder.state}`, { time: sayMoment(new Date(reminder.due), now, zone) });
}
