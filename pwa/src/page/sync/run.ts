// Sync itself, without timers or signals: offer what waits, take what is new, until there is no more.
import type { Event } from '../../shared/event';
import type { Failure, SyncAnswer } from '../../shared/store/answer';
import { readMeta, writeMeta, type Session } from '../../shared/store/meta';
import { offer, type Fetch } from '../../shared/store/offer';
import { nextBatch, type Batch } from '../../shared/store/outbox';
import { putRight, putRightSince } from '../../shared/store/put-right';
import { settle, type Settled } from '../../shared/store/settle';
import type { Steady } from '../../shared/store/steady';
import { wire } from '../../shared/store/wire';
import { OffsetMeter } from './offset';
import { Pace } from './pace';

export type Round = 'done' | 'more' | 'not joined' | Failure;

export type Hooks = {
  readonly settled: (settled: Settled) => Promise<void>;
  readonly offset: (offsetMs: number) => void;
  /** Events written before the clock was known to be wrong, now with right times. */
  readonly putRight: (events: readonly Event[]) => Promise<void>;
};

/** How a call ended, and the batch to go on with when that is known already. */
type Step = { readonly round: Round; readonly ahead: Batch | null };

/** A cursor after which there is nothing: asks for no news. */
const pastTheEnd = Number.MAX_SAFE_INTEGER;

export class SyncRun {
  private readonly meter = new OffsetMeter();
  private told: { readonly device: string; readonly offsetMs: number } | null = null;
  private epoch: string | null = null;
  /** Whether this phone's clock has ever been held against the server's; null while not looked up. */
  private measured: boolean | null = null;
  /** Whether this phone's clock may have been set since the server last told the time. */
  private inDoubt = false;
  /** The settling of the call before, which goes on while the next call is under way. */
  private settling: Promise<Settled> | null = null;

  constructor(
    private readonly steady: Steady,
    private readonly fetcher: Fetch,
    private readonly hooks: Hooks,
    private readonly rawNow: () => number = () => Date.now(),
    private readonly timeoutMs = 30_000,
    readonly pace: Pace = new Pace(),
  ) {}

  /** Rounds until all is sent and all is here, or until one fails. */
  async drain(mostRounds = 10_000): Promise<Round> {
    let ahead: Batch | null = null;
    for (let round = 0; round < mostRounds; round += 1) {
      const step: Step = await this.step(ahead);
      if (step.round !== 'more') return step.round;
      ahead = step.ahead;
    }
    await this.finishSettling();
    return 'more';
  }

  /** One call to the server and what follows from it. */
  async round(): Promise<Round> {
    const { round } = await this.step(null);
    await this.finishSettling();
    return round;
  }

  private async step(given: Batch | null): Promise<Step> {
    const held = await this.measureFirst(given);
    if (held) return { round: held, ahead: null };
    const batch = given ?? (await this.read(this.pace.skip));
    if (!batch) return { round: 'not joined', ahead: null };
    const sentAt = this.rawNow();
    const sendOnly = this.pace.weak && batch.events.length > 0;
    const sending = this.send(batch, sentAt, sendOnly);
    const reading = this.readAhead(batch);
    reading.catch(() => undefined); // looked at once the call is over
    const outcome = await sending;
    const next = await reading;
    await this.finishSettling();
    if (!outcome.ok) return { round: await this.failed(outcome.failure, batch), ahead: null };
    await this.measure(outcome.answer, sentAt, batch.session.device);
    const answer = sendOnly ? { ...outcome.answer, cursor: batch.cursor } : outcome.answer;
    return this.after(answer, batch, next, sendOnly);
  }

  /** This phone's clock may have been set: nothing is sent before the server has told the time. */
  doubtClock(): void {
    this.inDoubt = true;
  }

  /** Before the first events ever go, and after the clock may have been set: asks the time with an empty call, so that no wrong time is sent. A failure, or null. */
  private async measureFirst(given: Batch | null): Promise<Failure | null> {
    this.measured ??= (await this.steady.run((db) => readMeta(db, 'offsetMs'))) !== undefined;
    if ((this.measured && !this.inDoubt) || given) return null;
    const batch = await this.read(this.pace.skip);
    if (!batch || batch.events.length === 0) return null;
    const sentAt = this.rawNow();
    const outcome = await this.send({ ...batch, events: [], nextSince: batch.nextSince }, sentAt, true);
    if (!outcome.ok) return this.failed(outcome.failure, batch);
    await this.measure(outcome.answer, sentAt, batch.session.device);
    this.measured = true; // a trip too slow to tell by is not asked for again
    this.inDoubt = false;
    return null;
  }

  /** Settles. When all went the plain way and there is more to send, the next call need not wait for that. */
  private async after(answer: SyncAnswer, batch: Batch, next: Batch | null, sendOnly: boolean): Promise<Step> {
    this.pace.succeeded();
    const settling = this.settle(answer, batch);
    if (next && isPlain(answer, batch, this.epoch)) {
      this.settling = settling;
      settling.catch(() => undefined); // looked at by the step that follows
      return { round: 'more', ahead: { ...next, cursor: answer.cursor, waiting: next.waiting - batch.events.length } };
    }
    const settled = await settling;
    this.epoch = answer.epoch;
    return { round: hasMore(answer, settled, batch.waiting, sendOnly) ? 'more' : 'done', ahead: null };
  }

  private async finishSettling(): Promise<void> {
    const settling = this.settling;
    this.settling = null;
    await settling;
  }

  private read(skip: number): Promise<Batch | null> {
    return this.steady.run((db) => nextBatch(db, skip, this.pace.batch));
  }

  /** What comes after `batch`, read while it is on its way; null when there is nothing or things go badly. */
  private async readAhead({ events, waiting }: Batch): Promise<Batch | null> {
    if (this.pace.skip > 0 || this.pace.weak || waiting <= events.length) return null;
    const next = await this.read(events.length);
    return next && next.events.length > 0 ? next : null;
  }

  private send({ session, cursor, held, events, waiting, nextSince }: Batch, sentAt: number, sendOnly: boolean): ReturnType<typeof offer> {
    const request = {
      cursor: sendOnly ? pastTheEnd : cursor,
      events: events.map(wire),
      device_time: new Date(sentAt).toISOString(),
      unsent: Math.max(0, waiting - events.length),
      oldest_unsent_at: nextSince,
      ...(cursor === 0 && !sendOnly ? { own: true } : {}),
      ...(held ? { held } : {}),
    };
    return offer(this.fetcher, session.token, request, { timeoutMs: this.timeoutMs, limit: this.pace.limit });
  }

  private async settle(answer: SyncAnswer, batch: Batch): Promise<Settled> {
    const settled = await this.steady.run((db) => settle(db, answer, batch.events, batch, batch.session.device, answer.server_time));
    await this.hooks.settled(settled);
    return settled;
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
    if (offsetMs === null || (!this.inDoubt && this.told?.device === device && this.told.offsetMs === offsetMs)) return;
    this.told = { device, offsetMs };
    this.inDoubt = false;
    this.hooks.offset(offsetMs);
    const first = this.measured === false;
    this.measured = true;
    const known = await this.steady.run(async (db) => ({ offsetMs: await readMeta(db, 'offsetMs'), suspects: await readMeta(db, 'suspects') }));
    await this.steady.run((db) => writeMeta(db, 'offsetMs', offsetMs));
    const moved = await this.steady.run((db) => (first ? putRight(db, offsetMs) : putRightSince(db, offsetMs - (known.offsetMs ?? offsetMs), known.suspects ?? [])));
    if (known.suspects) await this.steady.run((db) => writeMeta(db, 'suspects', []));
    await this.hooks.putRight(moved);
  }
}

/** The server took all that was offered as it was, and is the one we know. */
function isPlain(answer: SyncAnswer, { events }: Batch, epoch: string | null): boolean {
  const accepted = new Set(answer.accepted);
  const changed = answer.rejected.length + Object.keys(answer.clamped).length;
  return answer.epoch === epoch && changed === 0 && events.every(({ id }) => accepted.has(id));
}

/** Whether another round brings anything. An answer that names none of what was offered must not be asked for again at once. */
function hasMore(answer: SyncAnswer, settled: Settled, waiting: number, sendOnly: boolean): boolean {
  const gone = settled.released.length + settled.rejected.length;
  return answer.more || settled.reoffered > 0 || (gone > 0 && (sendOnly || waiting > gone));
}
