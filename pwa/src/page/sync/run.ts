// Sync itself, without timers or signals: offer what waits, take what is new, until there is no more.
import type { Failure, SyncAnswer } from '../../shared/store/answer';
import { writeMeta, type Session } from '../../shared/store/meta';
import { offer, type Fetch } from '../../shared/store/offer';
import { nextBatch, type Batch } from '../../shared/store/outbox';
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

/** A cursor after which there is nothing: asks for no news. */
const pastTheEnd = Number.MAX_SAFE_INTEGER;

export class SyncRun {
  readonly pace = new Pace();
  private readonly meter = new OffsetMeter();
  private told: { readonly device: string; readonly offsetMs: number } | null = null;

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
    const { skip, batch: size } = this.pace;
    const batch = await this.steady.run((db) => nextBatch(db, skip, size));
    if (!batch) return 'not joined';
    const sentAt = this.rawNow();
    const sendOnly = this.pace.weak && batch.events.length > 0;
    const outcome = await this.send(batch, sentAt, sendOnly);
    if (!outcome.ok) return this.failed(outcome.failure, batch);
    await this.measure(outcome.answer, sentAt, batch.session.device);
    const answer = sendOnly ? { ...outcome.answer, cursor: batch.cursor } : outcome.answer;
    const settled = await this.settle(answer, batch);
    this.pace.succeeded();
    await this.hooks.settled(settled);
    return hasMore(answer, settled, batch.waiting, sendOnly) ? 'more' : 'done';
  }

  private send({ session, cursor, events, waiting, nextSince }: Batch, sentAt: number, sendOnly: boolean): ReturnType<typeof offer> {
    const request = {
      cursor: sendOnly ? pastTheEnd : cursor,
      events: events.map(wire),
      device_time: new Date(sentAt).toISOString(),
      unsent: waiting - events.length,
      oldest_unsent_at: nextSince,
      ...(cursor === 0 && !sendOnly ? { own: true } : {}),
    };
    return offer(this.fetcher, session.token, request, { timeoutMs: this.timeoutMs, limit: this.pace.limit });
  }

  private settle(answer: SyncAnswer, { events, session }: Batch): Promise<Settled> {
    return this.steady.run((db) => settle(db, answer, events, session.device, answer.server_time));
  }

  private async failed(failure: Failure, { events, waiting, session }: Batch): Promise<Failure> {
    this.pace.failed(events.length, waiting);
    if (failure.kind === 'revoked' && !session.revoked) await this.noteRevoked(session);
    return failure;
  }

  private noteRevoked(session: Session): Promise<void> {
    return this.steady.run((db) => writeMeta(db, 'session', { ...session, revoked: true }));
  }

  private async measure(answer: SyncAnswer, sentAt: number, device: string): Promise<void> {
    const offsetMs = this.meter.read(Date.parse(answer.server_time), sentAt, this.rawNow());
    if (offsetMs === null || (this.told?.device === device && this.told.offsetMs === offsetMs)) return;
    this.told = { device, offsetMs };
    this.hooks.offset(offsetMs);
    await this.steady.run((db) => writeMeta(db, 'offsetMs', offsetMs));
  }
}

/** Whether another round brings anything. An answer that names none of what was offered must not be asked for again at once. */
function hasMore(answer: SyncAnswer, settled: Settled, waiting: number, sendOnly: boolean): boolean {
  const gone = settled.released.length + settled.rejected.length;
  return answer.more || settled.reoffered > 0 || (gone > 0 && (sendOnly || waiting > gone));
}
