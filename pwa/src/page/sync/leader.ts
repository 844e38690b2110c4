// One tab syncs for all. Web Locks pass the lead on by themselves when that tab goes.
export interface Locks {
  /** Calls `hold` once the lock is ours; it stays ours until the promise settles or the tab goes. */
  request(name: string, hold: () => Promise<void>): Promise<unknown>;
}

export type Lead = { readonly release: () => void };

/** Waits for the lead, then calls `onLead`. Without Web Locks every tab leads, which sync bears: it is idempotent. */
export function seekLead(locks: Locks | undefined, onLead: () => void, name = 'slabtide-sync'): Lead {
  let release: () => void = () => undefined;
  const held = new Promise<void>((resolve) => {
    release = resolve;
  });
  let left = false;
  if (!locks) onLead();
  else {
    locks.request(name, () => {
      if (left) return Promise.resolve();
      onLead();
      return held;
    }).catch((error: unknown) => {
      console.error(error);
      onLead();
    });
  }
  return {
    release: () => {
      left = true;
      release();
    },
  };
}
