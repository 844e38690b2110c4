// Reminders the phone raises by itself while the app is open, with the same tag as a push: a person sees one.
import { computed, effect, untracked, type ReadonlySignal } from '@preact/signals';
import type { EventId, ReminderId } from '../../shared/events';
import { write } from '../../shared/store/database';
import { jobs, record } from '../log/journal';
import { storage } from '../log/storage';
import { now } from '../shell/now';
import type { Reminder } from '../sync/contract';
import { outlook } from '../sync/outlook';
import { putOff } from '../sync/put-off';
import { inLanguage, language, t } from '../words';
import { dueReminders, isNews } from './due';
import { pushState } from './subscription';

const acked = computed(() => new Set<string>(jobs.value.flatMap((job) => Object.keys(job.acks))));
const openJobs = computed(() => new Set<string>(jobs.value.filter((job) => !job.closed).map(({ id }) => id)));

/** Put off by someone until a time still ahead. */
function isPutOff(reminder: Reminder): boolean {
  const job = jobs.value.find(({ id }) => id === reminder.job);
  return job !== undefined && putOff(reminder, job, now.value) !== null;
}

/** What is due now, most urgent first. */
export const due: ReadonlySignal<readonly Reminder[]> = computed(() => {
  const mine = (outlook.value?.reminders ?? []).filter(({ job }) => openJobs.value.has(job));
  return dueReminders(mine, acked.value, now.value, isPutOff);
});

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
  if (first) await show(reminder);
}

type WithActions = NotificationOptions & { actions: { action: string; title: string }[] };

async function show(reminder: Reminder): Promise<void> {
  const registration = await navigator.serviceWorker.ready;
  const options: WithActions = {
    body: inLanguage(reminder.words),
    tag: reminder.id,
    lang: language.peek(),
    icon: '/icons/icon-192.png',
    badge: '/icons/badge-96.png',
    data: { navigate: `#/job/${reminder.job}/next-days`, reminder: reminder.id, job: reminder.job },
    actions: [{ action: 'acknowledge', title: t('shell.reminder.acknowledge') }],
  };
  await registration.showNotification(inLanguage(reminder.title), options);
}
