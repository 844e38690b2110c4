// What the server works out from the log: windows, slots and reminders. Cached for when there is no signal.
import type { ReadonlySignal } from '@preact/signals';
import { channel } from '../log/journal';
import type { Outlook } from './contract';
import { Cached } from './etag';

export type { CurvePoint, JobOutlook, LoadTimeline, Outlook, OutlookWeather, Reminder, ReminderState, Slot, Timeline, TimeWindow, Warning, When, WindowName } from './contract';

const cached = new Cached<Outlook>('outlook', '/api/outlook');

export const outlook: ReadonlySignal<Outlook | null> = cached.value;

/** Reads the cached outlook, and again when another tab has fetched a newer one. */
export async function openOutlook(): Promise<void> {
  channel.listen((message) => {
    if (message.type === 'outlook' || message.type === 'session') void cached.open();
  });
  await cached.open();
}

/** Asks the server for a newer outlook. Throws CallFailed. */
export async function refreshOutlook(): Promise<void> {
  if (await cached.refresh()) channel.post({ type: 'outlook' });
}
