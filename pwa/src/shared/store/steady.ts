// Keeps the database in reach: opens it with a time limit, drops a dead connection and tries again, tells full from broken.
import { openDatabase, type Ends, type FieldDatabase } from './database';

/** The phone has no room left. */
export class StorageFull extends Error {
  override readonly name = 'StorageFull';
}

/** The database could not be reached in the attempts allowed. Nothing was written. */
export class StorageLost extends Error {
  override readonly name = 'StorageLost';
}

type Kind = 'full' | 'connection' | 'other';

const lostWords = /connection|closing|closed|backing store|internal error|transaction.*(inactive|finished)|blob|lost/i;
const lostNames = new Set([
  'InvalidStateError', 'UnknownError', 'AbortError', 'TransactionInactiveError', 'TimeoutError', 'NotFoundError', 'VersionError',
]);

/** What went wrong, by the name and the words browsers give it. */
export function classify(error: unknown): Kind {
  const { name = '', message = '' } = (error ?? {}) as { name?: string; message?: string };
  if (name.startsWith('QuotaExceeded') || /quota/i.test(message)) return 'full';
  return lostNames.has(name) || lostWords.test(message) ? 'connection' : 'other';
}

class TimeoutError extends Error {
  override readonly name = 'TimeoutError';
}

function within<T>(work: Promise<T>, ms: number): Promise<T> {
  return new Promise<T>((resolve, reject) => {
    const timer = setTimeout(() => reject(new TimeoutError(`no answer from storage in ${ms} ms`)), ms);
    work.then(
      (value) => {
        clearTimeout(timer);
        resolve(value);
      },
      (error: unknown) => {
        clearTimeout(timer);
        reject(error instanceof Error ? error : new Error(String(error)));
      },
    );
  });
}

export type Limits = { readonly openMs: number; readonly workMs: number; readonly attempts: number };
const usual: Limits = { openMs: 5_000, workMs: 8_000, attempts: 3 };

/** One steady hold on one database. Work given to `run` must be safe to run twice: it puts by id. */
export class Steady {
  private db: FieldDatabase | null = null;
  private opening: Promise<FieldDatabase> | null = null;
  /** Run on each database opened: puts back what this page still holds, should the browser have taken it away. */
  onOpened: ((db: FieldDatabase) => Promise<void>) | null = null;
  /** Called when another tab needs a newer layout: this one must reload. */
  onOutdated: () => void = () => undefined;

  constructor(
    readonly name: string,
    private readonly limits: Limits = usual,
    private readonly make: (name: string, ends: Ends) => Promise<FieldDatabase> = openDatabase,
  ) {}

  /** Runs `work`, reopening a lost connection up to the attempts allowed. `patienceMs` is how long it may take each time. */
  async run<T>(work: (db: FieldDatabase) => Promise<T>, patienceMs = this.limits.workMs): Promise<T> {
    let last: unknown;
    for (let attempt = 0; attempt < this.limits.attempts; attempt += 1) {
      try {
        const db = await this.open();
        return await within(work(db), patienceMs);
      } catch (error) {
        const kind = classify(error);
        if (kind === 'full') throw new StorageFull('This phone has no room left.', { cause: error });
        if (kind === 'other') throw error;
        last = error;
        this.drop();
      }
    }
    throw new StorageLost('This phone does not answer when asked to save.', { cause: last });
  }

  close(): void {
    this.drop();
  }

  private drop(): void {
    this.db?.close();
    this.db = null;
    this.opening = null;
  }

  private open(): Promise<FieldDatabase> {
    if (this.db) return Promise.resolve(this.db);
    this.opening ??= this.openOnce().finally(() => {
      this.opening = null;
    });
    return this.opening;
  }

  private async openOnce(): Promise<FieldDatabase> {
    const opening = this.make(this.name, {
      outdated: () => {
        this.drop();
        this.onOutdated();
      },
      lost: () => this.drop(),
    });
    try {
      const db = await within(opening, this.limits.openMs);
      if (this.onOpened) await within(this.onOpened(db), this.limits.workMs);
      return (this.db = db);
    } catch (error) {
      // it may still open, too late for us: then it must not stay open and block others
      opening.then((late) => late.close(), () => undefined);
      throw error;
    }
  }
}
