// What follows from a clock that was set in the middle of the day, with no server to ask.
import { readMeta, writeMeta, type Suspect } from '../../shared/store/meta';
import type { Steady } from '../../shared/store/steady';
import type { Jump } from '../log/wall';

/** From here on a person should hear of it. */
const WORTH_SAYING_MS = 60_000;
const MOST = 20;

export type Keeping = {
  readonly offsetMs: () => number;
  /** The latest entry's place in the order of all; null when nobody has joined. */
  readonly position: () => string | null;
  readonly setOffset: (offsetMs: number) => void;
  /** The clock jumped ahead by so much, or the phone slept; 0: no longer in doubt. */
  readonly sayAhead: (byMs: number) => void;
  /** Before anything is sent, the time is asked for. */
  readonly doubt: () => void;
};

/** Set back: entries go on with right times at once. Ahead: noted, and looked at when the server next tells the time. */
export class Jumps {
  private writing: Promise<void> = Promise.resolve();

  constructor(private readonly steady: Steady, private readonly keeping: Keeping) {}

  hear({ byMs, seen }: Jump): Promise<void> {
    const after = this.keeping.position();
    if (after === null) return this.writing;
    this.keeping.doubt();
    if (byMs < 0) {
      const offsetMs = this.keeping.offsetMs() - byMs;
      this.keeping.setOffset(offsetMs);
      return this.inTurn(() => this.keepOffset(offsetMs));
    }
    if (seen && byMs >= WORTH_SAYING_MS) this.keeping.sayAhead(byMs);
    return this.inTurn(() => this.suspect({ after, byMs }));
  }

  /** The app was not there to notice anything since the last entry. Only what is unsent could have to be put right. */
  async started(unsent: number): Promise<void> {
    const after = this.keeping.position();
    if (after === null || unsent === 0) return;
    this.keeping.doubt();
    await this.inTurn(() => this.suspect({ after, byMs: null }));
  }

  /** Once all that was heard is on the disk. */
  written(): Promise<void> {
    return this.writing;
  }

  private inTurn(work: () => Promise<void>): Promise<void> {
    this.writing = this.writing.then(work, work);
    return this.writing;
  }

  /** A phone that never heard the server's time has no offset to go by: its first puts everything right. */
  private keepOffset(offsetMs: number): Promise<void> {
    return this.steady.run(async (db) => {
      if ((await readMeta(db, 'offsetMs')) !== undefined) await writeMeta(db, 'offsetMs', offsetMs);
    });
  }

  private suspect(one: Suspect): Promise<void> {
    return this.steady.run(async (db) => writeMeta(db, 'suspects', [...((await readMeta(db, 'suspects')) ?? []), one].slice(-MOST)));
  }
}
