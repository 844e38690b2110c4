// An event in a few words, for lists of what could not be sent.
import type { Event } from '../../shared/event';
import { jobView } from '../log/journal';
import { isWordKey, t } from '../words';

/** "Load logged · Miller patio". */
export function eventWords(event: Event): string {
  const key = `shell.kind.${event.kind}`;
  const what = isWordKey(key) ? t(key) : event.kind;
  const job = jobView(event.job).value?.name;
  return job ? `${what} · ${job}` : what;
}
