// The one hold the page has on its database, and what to tell the person when it can't be reached.
import { signal } from '@preact/signals';
import { DATABASE_NAME } from '../../shared/store/database';
import { StorageFull, StorageLost, Steady } from '../../shared/store/steady';

export type StorageTrouble = 'full' | 'lost' | 'outdated' | 'emptied';

/** What stands in the way of saving; null when all is well. */
export const storageTrouble = signal<StorageTrouble | null>(null);

export const storage = new Steady(DATABASE_NAME);
storage.onOutdated = () => {
  storageTrouble.value = 'outdated';
};

/** Notes what an error means for saving; true when it was about storage. */
export function noteStorageError(error: unknown): boolean {
  if (error instanceof StorageFull) storageTrouble.value = 'full';
  else if (error instanceof StorageLost) storageTrouble.value = 'lost';
  else return false;
  return true;
}
