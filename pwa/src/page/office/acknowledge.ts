import { signal, type ReadonlySignal } from '@preact/signals';
import type { ReminderId } from '../../shared/events';
import { record } from '../log/journal';
import { offerUndo } from '../log/undo';
import type { Reminder } from '../sync/contract';
import { t } from '../words';
import { sayError } from '../shell/trouble';

const failed = signal<string | null>(null);
/** Why the last "I have it" could not be kept; null when it could. */
export const notKept: ReadonlySignal<string | null> = failed;

/** Takes a reminder in hand from the office's desk, and offers to take it back. */
export async function acknowledge(reminder: Reminder): Promise<void> {
  try {
    const event = await record(reminder.job, 'reminder.acknowledged', {
      reminder: reminder.id as ReminderId,
      via: 'board',
    });
    failed.value = null;
    offerUndo(reminder.job, event, t('office.have_it.undo'));
  } catch (error) {
    failed.value = sayError(error);
  }
}
