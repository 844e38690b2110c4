// What the server works out from the log: windows, slots and reminders. Cached for when there is no signal.
import { computed, type ReadonlySignal } from '@preact/signals';
import type { JobView } from '../../shared/job';
import { channel, unsent } from '../log/journal';
import type { Outlook } from './contract';
import { Cached } from './etag';
import { openWorked, withWorked, worked } from './worked';

export type { CurvePoint, JobOutlook, LoadTimeline, Outlook, OutlookWeather, Reminder, ReminderState, Slot, Timeline, TimeWindow, Warning, When, WindowName } from './contract';

const cached = new Cached<Outlook>('outlook', '/api/outlook');

/** As the server last told it. */
export const serverOutlook: ReadonlySignal<Outlook | null> = cached.value;

const anyUnsent = computed(() => unsent.value.count > 0);

/** What to go by: the server's, and this phone's own where that is newer. */
export const outlook: ReadonlySignal<Outlook | null> = computed(() => withWorked(serverOutlook.value, worked.value, anyUnsent.value));

/** Reads the cached outlook, and again when another tab has fetched a newer one. */
export async function openOutlook(): Promise<void> {
  channel.listen((message) => {
    if (message.type === 'outlook' || message.type === 'session') void cached.open();
  });
  await Promise.all([cached.open(), openWorked()]);
}

const sayNews = (): void => channel.post({ type: 'outlook' });

/** Asks the server for a newer outlook. Throws CallFailed. */
export async function refreshOutlook(): Promise<void> {
  const near = await import('./near');
  if (await cached.refresh(await near.asked(), (told) => near.withFetched(told, () => cached.value.peek()))) sayNews();
}

/** Carries the outlook of a job somebody has open. Returns how to stop. */
export function followJob(job: JobView): () => void {
  const following = import('./near').then(({ follow }) => follow(job, cached, sayNews));
  return () => void following.then((stop) => stop());
}
