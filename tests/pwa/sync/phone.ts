// One phone in a test: its own database, its own log, its own sync; the network is what the test makes of it.
import 'fake-indexeddb/auto';
import { Book } from '../../../pwa/src/page/log/book';
import { Pace } from '../../../pwa/src/page/sync/pace';
import { SyncRun } from '../../../pwa/src/page/sync/run';
import type { JobId } from '../../../pwa/src/shared/events';
import type { Channel, Message } from '../../../pwa/src/shared/store/channel';
import { takeSession } from '../../../pwa/src/shared/store/membership';
import type { Fetch } from '../../../pwa/src/shared/store/offer';
import { Steady } from '../../../pwa/src/shared/store/steady';
import { ServerModel } from './server-model';

/** A channel between the tabs of one phone. */
export class Tabs {
  private readonly ears = new Set<(message: Message) => void>();
  open(): Channel {
    let own: ((message: Message) => void) | undefined;
    return {
      post: (message) => { for (const ear of this.ears) if (ear !== own) ear(structuredClone(message)); },
      listen: (hear) => {
        own = hear;
        this.ears.add(hear);
        return () => this.ears.delete(hear);
      },
    };
  }
}

let made = 0;
export const job = '01920000-0000-7000-8000-000000000001' as JobId;
export const uuid = (n: number): string => `0192aaaa-0000-7000-8000-${n.toString(16).padStart(12, '0')}`;

export class Phone {
  readonly device: string;
  readonly steady: Steady;
  readonly book: Book;
  readonly run: SyncRun;
  readonly tabs = new Tabs();
  offsetMs = 0;

  constructor(fetcher: Fetch, public rawNow: () => number, batch?: number) {
    made += 1;
    this.device = uuid(made);
    this.steady = new Steady(`phone-${made}`);
    this.book = new Book(this.steady, this.tabs.open(), () => this.rawNow());
    this.run = new SyncRun(this.steady, fetcher, {
      settled: (settled) => this.book.settled(settled),
      putRight: (events) => this.book.putRight(events),
      offset: (offsetMs) => {
        this.offsetMs = offsetMs;
        this.book.setOffset(offsetMs);
      },
    }, () => this.rawNow(), 1_000, new Pace(batch));
  }

  async join(token: string, epoch = 'epoch-1', company = 'company-1'): Promise<void> {
    const session = { token, device: this.device, person: uuid(0xfff), name: 'Ana', role: 'foreman' as const, company: { id: company, name: 'Slab crew' } };
    await this.steady.run((db) => takeSession(db, session, epoch, new Date(this.rawNow()).toISOString()));
    await this.book.open();
  }

  note(text: string): Promise<string> {
    return this.book.record(job, 'note.written', { text });
  }

  waiting(): Promise<number> {
    return this.steady.run((db) => db.count('outbox'));
  }

  async log(): Promise<{ id: string; clock: string }[]> {
    const events = await this.steady.run((db) => db.getAll('events'));
    return events.map(({ id, clock }) => ({ id, clock })).sort((one, other) => (one.id < other.id ? -1 : 1));
  }
}

/** A phone of the crew that has joined, and the server it joined, both at one moment. */
export async function joinedAt(now: number): Promise<{ phone: Phone; server: ServerModel }> {
  const server = new ServerModel(() => now);
  const phone = new Phone((path, init) => server.fetch(path, init), () => now);
  await phone.join(server.enrol(phone.device));
  return { phone, server };
}
