// One tab syncs for all. Web Locks pass the lead on by themselves when that tab goes; a tab that the phone has put to
// sleep can be relieved of it.
export interface Locks {
  /** Calls `hold` once the lock is ours. Rejects when another tab takes the lock away. */
  request(name: string, options: { readonly steal?: boolean }, hold: () => Promise<void>): Promise<unknown>;
}

export type Lead = {
  /** Gives the lead up, or the place in line. */
  readonly release: () => void;
  /** Takes the lead from a tab that no longer answers. */
  readonly take: () => void;
};

export type LeadHooks = { readonly onLead: () => void; readonly onLoss: () => void };

/** Waits for the lead. Without Web Locks every tab leads, which sync bears: it is idempotent. */
export function seekLead(locks: Locks | undefined, hooks: LeadHooks, name = 'slabtide-sync'): Lead {
  let release: () => void = () => undefined;
  let left = false;
  let turn = 0;
  const ask = (steal: boolean): void => {
    turn += 1;
    const mine = turn;
    let led = false;
    const held = new Promise<void>((resolve) => {
      release = resolve;
    });
    const hold = (): Promise<void> => {
      if (left || mine !== turn) return Promise.resolve();
      led = true;
      hooks.onLead();
      return held;
    };
    locks?.request(name, steal ? { steal } : {}, hold).catch(() => {
      if (!led || left) return;
      hooks.onLoss();
      ask(false);
    });
  };
  if (locks) ask(false);
  else hooks.onLead();
  return {
    release: () => {
      left = true;
      release();
    },
    take: () => ask(true),
  };
}
