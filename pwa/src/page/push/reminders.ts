// Reminders the phone raises by itself while the app is open, with the same tag as a push: a person sees one.
import { computed, effect, untracked, type ReadonlySignal } from '@preact/signals';
import type { EventId, ReminderId } from '../../shared/events';
import type { JobView } from '../../shared/job';
import { write } from '../../shared/store/database';
import { authorsSince, jobs, record } from '../log/journal';
import { storage } from '../log/storage';
import { now } from '../shell/now';
import type { Reminder } from '../sync/contract';
import { outlook } from '../sync/outlook';
import { putOff, stillCounts } from '../sync/put-off';
import { me } from '../sync/state';
import { inLanguage, language, t } from '../words';
import { dueReminders, isNews, isToldBySignals } from './due';
import { pushState } from './subscription';
import { firstTold, isMine, workingDay, type Person } from './told';

const openJobs = computed(() => new Map(jobs.value.filter((job) => !job.closed).map((job) => [job.id, job])));

function isTaken(reminder: Reminder, job: JobView): boolean {
  const ack = job.acks[reminder.id as ReminderId];
  return ack !== undefined && stillCounts(reminder, ack.at);
}

/** Whether this phone's person is who it goes to. An older server that names no people leaves it to everyone. */
function goesToMe(reminder: Reminder, job: JobView, people: readonly Person[], nowMs: number): boolean {
  const person = people.find(({ id }) => id === me.value?.person);
  if (!person) return true;
  const since = (): number => workingDay(nowMs, job.opened?.time_zone ?? 'UTC');
  return isMine(reminder, person, firstTold(reminder, job.crew?.lead ?? null, people, () => authorsSince(job.id, since())), nowMs);
}

/** What is due now for the person of this phone, most urgent first. */
export const due: ReadonlySignal<readonly Reminder[]> = computed(() => {
  const { reminders = [], people = [] } = outlook.value ?? {};
  const mine = reminders.filter((one) => openJobs.value.has(one.job));
  const taken = new Set(mine.filter((one) => isTaken(one, openJobs.value.get(one.job) as JobView)).map(({ id }) => id));
  const isPutOff = (one: Reminder): boolean => putOff(one, openJobs.value.get(one.job) as JobView, now.value, mine) !== null;
  return dueReminders(mine, taken, now.value, isPutOff)
    .filter((one) => goesToMe(one, openJobs.value.get(one.job) as JobView, people, now.value.getTime()));
});

/** Whether the phone's signals are on for whoever holds it: those who work on the slab. */
const hasSignals = computed(() => me.value?.role === 'crew' || me.value?.role === 'foreman');

/** What the bar over the screens says: what no signal says already. */
export const dueForBar: ReadonlySignal<readonly Reminder[]> = computed(() => due.value.filter((reminder) => !(hasSignals.value && isToldBySignals(reminder))));

/** Acknowledges from inside the app, and takes the notification off the screen. */
export async function acknowledge(reminder: Reminder): Promise<EventId> {
  const event = await record(reminder.job, 'reminder.acknowledged', { reminder: reminder.id as ReminderId, via: 'app' });
  await closeNotification(reminder.id);
  return event;
}

async function closeNotification(tag: string): Promise<void> {
  if (!('serviceWorker' in navigator)) return;
  const registration = await navigator.serviceWorker.getRegistration();
  for (const shown of (await registration?.getNotifications({ tag })) ?? []) shown.close();
}

/** Raises each due reminder once, across reloads and tabs. Main calls it once; returns how to stop. */
export function raiseReminders(): () => void {
  return effect(() => {
    for (const reminder of due.value) void untracked(() => raiseOnce(reminder)).catch((error: unknown) => console.error(error));
  });
}

async function raiseOnce(reminder: Reminder): Promise<void> {
  if (!('Notification' in globalThis) || Notification.permission !== 'granted') return;
  if (reminder.state === 'sent' && pushState.peek() === 'on') return; // the push has shown it, or will
  const first = await storage.run((db) => write(db, ['raised'], async (tx) => {
    const raised = tx.objectStore('raised');
    if (!isNews(reminder, (await raised.get(reminder.id))?.due)) return false;
    await raised.put({ key: reminder.id, due: reminder.due });
    return true;
  }));
  // Somebody looks at the app: the tone and the line over the screen have said it, under no second notification.
  if (first && !(document.visibilityState === 'visible' && hasSignals.peek() && isToldBySignals(reminder))) await show(reminder);
}

/** The phase in which the work of a reminder is done. */
export const pageOf = ({ what }: Pick<Reminder, 'what'>): string => (what === 'check' || what === 'texture' ? 'texture' : 'next-days');

type WithActions = NotificationOptions & { actions: { action: string; title: string }[] };

async function show(reminder: Reminder): Promise<void> {
  const registration = await navigator.serviceWorker.ready;
  const options: WithActions = {
    body: inLanguage(reminder.words),
    tag: reminder.id,
    lang: language.peek(),
    icon: '/icons/icon-192.png',
    badge: '/icons/badge-96.png',
    data: { navigate: `#/job/${reminder.job}/${pageOf(reminder)}`, reminder: reminder.id, job: reminder.job, due: reminder.due },
    actions: [{ action: 'acknowledge', title: t('shell.reminder.acknowledge') }],
  };
  await registration.showNotification(inLanguage(reminder.title), options);
}
