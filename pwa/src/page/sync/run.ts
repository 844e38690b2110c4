// Sync itself, without timers or signals: offer what waits, take what is new, until there is no more.
import type { Event } from '../../shared/event';
import type { Failure, SyncAnswer } from '../../shared/store/answer';
import { readMeta, writeMeta, type Session } from '../../shared/store/meta';
import { offer, type Fetch } from '../../shared/store/offer';
import { nextBatch } from '../../shared/store/outbox';
import { settle, type Settled } from '../../shared/store/settle';
import type { Steady } from '../../shared/store/steady';
import { wire } from '../../shared/store/wire';
import { OffsetMeter } from './offset';
import { Pace } from './pace';

export type Round = 'done' | 'more' | 'not joined' | Failure;

export type Hooks = {
  readonly settled: (settled: Settled) => Promise<void>;
  readonly offset: (offsetMs: number) => void;
};

type Offered = { readonly session: Session; readonly cursor: number; readonly events: readonly Event[]; readonly waiting: number; /** Since when the oldest that stays behind waits. */ readonly oldest: string | null };

export class SyncRun {
  readonly pace = new Pace();
  private readonly meter = new OffsetMeter();

  constructor(
    private readonly steady: Steady,
    private readonly fetcher: Fetch,
    private readonly hooks: Hooks,
    private readonly rawNow: () => number = () => Date.now(),
    private readonly timeoutMs = 30_000,
  ) {}

  /** Rounds until all is sent and all is here, or until one fails. */
  async drain(mostRounds = 10_000): Promise<Round> {
    for (let round = 0; round < mostRounds; round += 1) {
      const outcome = await this.round();
      if (outcome !== 'more') return outcome;
    }
    return 'more';
  }

  /** One call to the server and what follows from it. */
  async round(): Promise<Round> {
    const offered = await this.gather();
    if (!offered) return 'not joined';
    const { session, cursor, events, waiting, oldest } = offered;
    const sentAt = this.rawNow();
    const outcome = await offer(this.fetcher, session.token, {
      cursor,
      events: events.map(wire),
      device_time: new Date(sentAt).toISOString(),
      unsent: waiting - events.length,
      oldest_unsent_at: oldest,
      ...(cursor === 0 ? { own: true } : {}),
    }, { timeoutMs: this.timeoutMs, limit: this.pace.limit });
    if (!outcome.ok) return this.failed(outcome.failure, events.length, waiting, session);
    await this.measure(outcome.answer, sentAt);
    const at = outcome.answer.server_time;
    const settled = await this.steady.run((db) => settle(db, outcome.answer, events, session.device, at));
    this.pace.succeeded();
    await this.hooks.settled(settled);
    const stuck = settled.released.length + settled.rejected.length === 0 && settled.reoffered === 0;
    const moreToSend = !stuck && waiting > settled.released.length + settled.rejected.length;
    return outcome.answer.more || moreToSend || settled.reoffered > 0 ? 'more' : 'done';
  }

  private gather(): Promise<Offered | null> {
    return this.steady.run(async (db) => {
      const session = await readMeta(db, 'session');
      if (!session) return null;
      const { events, waiting, next } = await nextBatch(db, this.pace.skip, this.pace.batch);
      return { session, cursor: (await readMeta(db, 'cursor')) ?? 0, events, waiting, oldest: next?.since ?? null };
    });
  }

  private async failed(failure: Failure, sent: number, waiting: number, session: Session): Promise<Failure> {
    this.pace.failed(sent, waiting);
    if (failure.kind === 'revoked' && !session.revoked) {
      await this.steady.run((db) => writeMeta(db, 'session', { ...session, revoked: true }));
    }
    return failure;
  }

  private async measure(answer: SyncAnswer, sentAt: number): Promise<void> {
    const offsetMs = this.meter.read(Date.parse(answer.server_time), sentAt, this.rawNow());
    if (offsetMs === null) return;
    this.hooks.offset(offsetMs);
    await this.steady.run((db) => writeMeta(db, 'offsetMs', offsetMs));
  }
}
