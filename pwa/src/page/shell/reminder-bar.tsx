// The most urgent reminder that nobody has taken, in one line over any screen; the rest opens at a touch.
import type { ReminderId } from '../../shared/events';
import type { JobView } from '../../shared/job';
import { formatTime } from '../../shared/units';
import { jobs, record } from '../log/journal';
import { offerUndo } from '../log/undo';
import { Bar, Button, Care, LinkButton, sayMoment, stateWord, type CareWhat } from '../look';
import { sayLead, type Lead } from '../now/say';
import { coatOf, loadOf, type Task } from '../now/tasks';
import { acknowledge, dueForBar, pageOf } from '../push/reminders';
import type { Reminder } from '../sync/contract';
import { putOffUntil } from '../sync/put-off';
import { inLanguage, isWordKey, t } from '../words';
import { now } from './now';
import { route } from './route';

const cautions: Readonly<Record<Reminder['what'], readonly CareWhat[]>> = {
  check: ['wet_concrete'],
  texture: ['wet_concrete'],
  saw: ['saw', 'silica'],
  wash: ['run_off'],
  colour: ['solvent'],
  seal: ['solvent'],
};

/** The reminder in the words of the work it is of, so that time and state are those of this minute and not of when it was sent. */
function leadOf(reminder: Reminder, job: JobView, moment: Date): Lead {
  const load = loadOf(reminder);
  if (reminder.what === 'check') return { head: t(load === null ? 'office.what.check' : 'now.what.check', { load: load ?? '' }), tail: '' };
  const task: Task = { job, work: reminder.what, window: reminder, state: stateWord(moment, reminder), load, coat: coatOf(reminder), started: job.cuts.length > 0 };
  return sayLead(task, moment);
}

type BarProps = { readonly told: (work: () => Promise<unknown>) => void };

export function ReminderBar({ told }: BarProps) {
  const [first, ...others] = dueForBar.value;
  const job = jobs.value.find(({ id }) => id === first?.job);
  // Its words are the rooms', which follow the first load.
  if (!first || !job || !isWordKey('nextDays.later')) return null;
  const lead = leadOf(first, job, now.value);
  const take = async (): Promise<void> => offerUndo(first.job, await acknowledge(first), t('shell.reminder.taken'));
  const line = <>{urgent(first) && <span class="look-notice-word">{t(`office.stage.${first.stage}`)}</span>} {lead.head} {job.name}</>;
  return (
    <Bar
      // On another screen, and for another reminder, it is folded again.
      key={`${first.id} ${JSON.stringify(route.value)}`}
      name={t('shell.reminder.now')}
      tone={urgent(first) ? 'stop' : 'due'}
      line={line}
      more={others.length}
      action={<Button onPress={() => told(take)} label={`${t('shell.reminder.acknowledge')}: ${inLanguage(first.title)}`}>{t('shell.reminder.acknowledge')}</Button>}
    >
      <Details reminder={first} job={job} lead={lead} others={others.length} told={told} />
    </Bar>
  );
}

const urgent = ({ stage }: Reminder): boolean => stage === 'last_call' || stage === 'missed';

type DetailsProps = BarProps & { readonly reminder: Reminder; readonly job: JobView; readonly lead: Lead; readonly others: number };

function Details({ reminder, job, lead, others, told }: DetailsProps) {
  const until = putOffUntil(reminder, now.value);
  const zone = job.opened?.time_zone ?? 'UTC';
  const wait = async (to: Date): Promise<void> => {
    const event = await record(reminder.job, 'reminder.snoozed', { reminder: reminder.id as ReminderId, until: to.toISOString() });
    offerUndo(reminder.job, event, t('nextDays.did.later', { title: inLanguage(reminder.title) }));
  };
  return (
    <>
      <p><strong>{job.name}.</strong> {lead.head} {lead.tail}</p>
      <p>{t(`nextDays.advice.${reminder.what}`)}</p>
      {reminder.moved_from && <p>{t('nextDays.movedFrom', { at: sayMoment(new Date(reminder.moved_from), now.value, zone) })}</p>}
      <div class="actions">
        <LinkButton href={`#/job/${reminder.job}/${pageOf(reminder)}`}>{t('shell.reminder.open')}</LinkButton>
        {until && <Button onPress={() => told(() => wait(until))}>{t('nextDays.later', { at: formatTime(until, zone) })}</Button>}
      </div>
      {cautions[reminder.what].map((what) => <Care key={what} what={what} />)}
      {others > 0 && <p>{t('shell.reminder.more', { count: others })}</p>}
    </>
  );
}
