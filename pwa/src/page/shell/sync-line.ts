// One line that says where the work stands: what is unsent, since when, and why.
import type { Unsent } from '../log/journal';
import type { SyncState } from '../sync/state';
import type { WordKey } from '../words';
import { isShutOut } from './trouble';

export type LineInput = {
  readonly unsent: Unsent;
  readonly sync: SyncState;
  readonly online: boolean;
  readonly now: Date;
};
export type Line = { readonly tone: 'plain' | 'warn' | 'stop'; readonly key: WordKey; readonly oldestMin: number | null; readonly count: number };

const longWaitMin = 3 * 24 * 60;

/** What to say, the most pressing first. */
export function syncLine({ unsent, sync, online, now }: LineInput): Line {
  const oldestMin = unsent.oldestAt === null ? null : Math.max(0, (now.getTime() - Date.parse(unsent.oldestAt)) / 60_000);
  const count = unsent.count;
  const line = (key: WordKey, tone: Line['tone'] = 'plain'): Line => ({ tone, key, oldestMin, count });
  if (unsent.rejected.length > 0) return { tone: 'stop', key: 'shell.sync.rejected', oldestMin, count: unsent.rejected.length };
  if (isShutOut(sync.trouble)) return line('shell.sync.revoked', 'stop');
  if (sync.trouble?.code === 'portal') return line(count > 0 ? 'shell.sync.portalUnsent' : 'shell.sync.portal', 'warn');
  if (sync.phase === 'problem') return line(count > 0 ? 'shell.sync.problemUnsent' : 'shell.sync.problem', 'warn');
  const late = oldestMin !== null && oldestMin > longWaitMin ? 'warn' : 'plain';
  if (!online || sync.phase === 'offline') return line(count > 0 ? 'shell.sync.offlineUnsent' : 'shell.sync.offline', late);
  if (count > 0) return line(sync.phase === 'syncing' ? 'shell.sync.sending' : 'shell.sync.unsent', late);
  return line(sync.lastOk === null ? 'shell.sync.first' : 'shell.sync.allSent');
}

/** Past 60 s a person should know that the phone's clock is wrong. */
export const clockIsWrong = (offsetMs: number): boolean => Math.abs(offsetMs) > 60_000;
