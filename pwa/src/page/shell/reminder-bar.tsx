// The most urgent reminder that nobody has taken, in one line over any screen; the rest opens at a touch.
import { useState } from 'preact/hooks';
import type { ReminderId } from '../../shared/events';
import type { JobView } from '../../shared/job';
import { formatTime } from '../../shared/units';
import { jobs, record } from '../log/journal';
import { offerUndo } from '../log/undo';
import { Button, Care, LinkButton, sayMoment, stateWord, type CareWhat } from '../look';
import { sayLead, zoneOfTask } from '../now/say';
import { coatOf, type Task } from '../now/tasks';
import { acknowledge, due } from '../push/reminders';
import type { Reminder } from '../sync/contract';
import { putOffUntil } from '../sync/put-off';
import { inLanguage, isWordKey, t } from '../words';
import { now } from './now';
import { route } from './route';

const cautions: Readonly<Record<Reminder['what'], readonly CareWhat[]>> = {
  saw: ['saw', 'silica'],
  wash: ['run_off'],
  colour: ['solvent'],
  seal: ['solvent'],
};

/** The reminder as work of its job, so that time and state are those of this minute and not of when it was sent. */
export const taskOf = (reminder: Reminder, job: JobView, moment: Date): Task => ({
  job, work: reminder.what, window: reminder, state: stateWord(moment, reminder), load: null, coat: coatOf(reminder), started: job.cuts.length > 0,
});

type BarProps = { readonly told: (work: () => Promise<unknown>) => void };

export function ReminderBar({ told }: BarProps) {
  const [first, ...others] = due.value;
  const [opened, setOpened] = useState<string | null>(null);
  const job = jobs.value.find(({ id }) => id === first?.job);
  // Its words are the rooms', which follow the first load.
  if (!first || !job || !isWordKey('nextDays.later')) return null;
  const task = taskOf(first, job, now.value);
  const lead = sayLead(task, now.value);
  // On another screen the details are closed again.
  const here = `${first.id} ${JSON.stringify(route.value)}`;
  const open = opened === here;
  const take = async (): Promise<void> => offerUndo(first.job, await acknowledge(first), t('shell.reminder.taken'));
  return (
    <section class={`shell-reminder shell-reminder-${first.stage}`} aria-label={t('shell.reminder.now')}>
      <div class="shell-reminder-line">
        <button type="button" class="shell-reminder-words" aria-expanded={open} onClick={() => setOpened(open ? null : here)}>
          <span class="shell-reminder-job">{job.name}</span>
          <span class="shell-reminder-head">{lead.head}</span>
          <span class="shell-reminder-tail">{urgent(first) && <span class="look-notice-word">{t(`office.stage.${first.stage}`)}</span>} {lead.tail} <span class="shell-reminder-more">{t(open ? 'shell.reminder.less' : 'shell.reminder.details')}</span></span>
        </button>
        <Button onPress={() => told(take)} label={`${t('shell.reminder.acknowledge')}: ${inLanguage(first.title)}`}>{t('shell.reminder.acknowledge')}</Button>
      </div>
      {open && <Details reminder={first} task={task} others={others.length} told={told} onDone={() => setOpened(null)} />}
    </section>
  );
}

const urgent = ({ stage }: Reminder): boolean => stage === 'last_call' || stage === 'missed';

type DetailsProps = BarProps & { readonly reminder: Reminder; readonly task: Task; readonly others: number; readonly onDone: () => void };

function Details({ reminder, task, others, told, onDone }: DetailsProps) {
  const until = putOffUntil(reminder, now.value);
  const zone = zoneOfTask(task);
  const wait = async (to: Date): Promise<void> => {
    const event = await record(reminder.job, 'reminder.snoozed', { reminder: reminder.id as ReminderId, until: to.toISOString() });
    offerUndo(reminder.job, event, t('nextDays.did.later', { title: inLanguage(reminder.title) }));
    onDone();
  };
  return (
    <div class="shell-reminder-details">
      <p>{t(`nextDays.advice.${reminder.what}`)}</p>
      {reminder.moved_from && <p>{t('nextDays.movedFrom', { at: sayMoment(new Date(reminder.moved_from), now.value, zone) })}</p>}
      <div class="actions">
        <LinkButton href={`#/job/${reminder.job}/next-days`}>{t('shell.reminder.open')}</LinkButton>
        {until && <Button onPress={() => told(() => wait(until))}>{t('nextDays.later', { at: formatTime(until, zone) })}</Button>}
      </div>
      {cautions[reminder.what].map((what) => <Care key={what} what={what} />)}
      {others > 0 && <p>{t('shell.reminder.more', { count: others })}</p>}
    </div>
  );
}
