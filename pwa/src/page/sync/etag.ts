// A document the server offers with an ETag, cached in the database, so that it is there without a signal.
import { signal, type ReadonlySignal } from '@preact/signals';
import { readMeta, writeMeta } from '../../shared/store/meta';
import { storage } from '../log/storage';
import { call, jsonOf } from './call';

export class Cached<T> {
  private readonly current = signal<T | null>(null);
  private tag: string | null = null;
  readonly value: ReadonlySignal<T | null> = this.current;

  constructor(
    private readonly key: 'outlook' | 'board',
    private readonly path: string,
  ) {}

  /** Reads the copy on the phone. */
  async open(): Promise<void> {
    const kept = await storage.run((db) => readMeta(db, this.key));
    this.tag = kept?.tag ?? null;
    this.current.value = (kept?.value as T | undefined) ?? null;
  }

  /** Asks the server; true when it has news. Throws CallFailed. */
  async refresh(): Promise<boolean> {
    const response = await call(this.path, { tag: this.tag });
    if (response.status === 304) return false;
    const value = await jsonOf<T>(response);
    this.tag = response.headers.get('ETag');
    this.current.value = value;
    await storage.run((db) => writeMeta(db, this.key, { tag: this.tag, value }));
    return true;
  }
}
