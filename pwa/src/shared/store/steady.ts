// Keeps the database in reach: opens it with a time limit, drops a dead connection and tries again, tells full from broken.
import { FieldDatabase } from './database';

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
  'InvalidStateError', 'UnknownError', 'AbortError', 'DatabaseClosedError', 'DatabaseClosed', 'OpenFailed', 'OpenFailedError',
  'TransactionInactiveError', 'TransactionInactive', 'TimeoutError', 'Timeout', 'PrematureCommitError', 'InvalidState', 'Unknown', 'Abort',
]);

type Named = { name?: unknown; message?: unknown; inner?: unknown; failures?: unknown };

/** What went wrong, read through Dexie's wrapping. */
export function classify(error: unknown): Kind {
  let current = error as Named | null | undefined;
  let kind: Kind = 'other';
  for (let depth = 0; current && depth < 5; depth += 1) {
    const name = typeof current.name === 'string' ? current.name : '';
    const message = typeof current.message === 'string' ? current.message : '';
    if (name.startsWith('QuotaExceeded') || /quota/i.test(message)) return 'full';
    if (lostNames.has(name) || lostWords.test(message)) kind = 'connection';
    const failures = Array.isArray(current.failures) ? (current.failures[0] as Named | undefined) : undefined;
    current = (current.inner as Named | undefined) ?? failures;
  }
  return kind;
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
  /** Called when another tab needs a newer layout: this one must reload. */
  onOutdated: () => void = () => undefined;

  constructor(
    readonly name: string,
    private readonly limits: Limits = usual,
    private readonly make: (name: string) => FieldDatabase = (wanted) => new FieldDatabase(wanted),
  ) {}

  /** Runs `work`, reopening a lost connection up to the attempts allowed. */
  async run<T>(work: (db: FieldDatabase) => Promise<T>): Promise<T> {
    let last: unknown;
    for (let attempt = 0; attempt < this.limits.attempts; attempt += 1) {
      try {
        const db = await this.open();
        return await within(work(db), this.limits.workMs);
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
    if (this.db?.isOpen()) return Promise.resolve(this.db);
    this.opening ??= this.openOnce().finally(() => {
      this.opening = null;
    });
    return this.opening;
  }

  private async openOnce(): Promise<FieldDatabase> {
    const db = this.make(this.name);
    db.on('versionchange', () => {
      db.close();
      this.onOutdated();
    });
    try {
      await within(db.open(), this.limits.openMs);
    } catch (error) {
      db.close();
      throw error;
    }
    this.db = db;
    return db;
  }
}
