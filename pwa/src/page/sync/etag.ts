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

  /** Asks the server; true when it has news. `settle`: what to keep of them. Throws CallFailed. */
  async refresh(query: string, settle: (told: T) => Promise<T>): Promise<boolean> {
    const response = await call(this.path + query, { tag: this.tag });
    if (response.status === 304) return false;
    const value = await settle(await jsonOf<T>(response));
    this.tag = response.headers.get('ETag');
    await this.keep(value);
    return true;
  }

  /** Puts something to what is here. */
  async change(make: (value: T) => T): Promise<void> {
    const value = this.current.peek();
    if (value !== null) await this.keep(make(value));
  }

  private async keep(value: T): Promise<void> {
    this.current.value = value;
    await storage.run((db) => writeMeta(db, this.key, { tag: this.tag, value }));
  }
}
