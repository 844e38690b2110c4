// The field log on this phone: what is recorded shows at once, and is "saved" only when it is on the disk.
import { computed, signal, type ReadonlySignal } from '@preact/signals';
import { Clock, writeClock } from '../../shared/clock';
import { byClock, instant, type Event } from '../../shared/event';
import type { Bodies, DeviceId, EventId, JobId, Kind, PersonId } from '../../shared/events';
import type { JobState } from '../../shared/fold';
import type { JobView } from '../../shared/job';
import type { FieldDatabase, Rejected } from '../../shared/store/database';
import { readMeta, type ClockState } from '../../shared/store/meta';
import { stamp, type Writer } from '../../shared/store/stamp';
import type { Settled } from '../../shared/store/settle';
import { StorageFull, type Steady } from '../../shared/store/steady';
import { discardRejected, keepRejected, offerAgain, writeOwn } from '../../shared/store/write';
import type { Channel, Message } from '../../shared/store/channel';
import { Folds } from './folds';
import { WriteQueue } from './queue';
import { makeRoom } from './room';

export type Unsent = { readonly count: number; readonly oldestAt: string | null; readonly rejected: readonly Rejected[] };

/** How long reading a very long log may take on a slow phone. */
const wholeLogMs = 60_000;

/** Nobody has joined on this phone, so there is no name to write under. */
export class NotJoined extends Error {
  override readonly name = 'NotJoined';
}

export class Book {
  readonly unsent: ReadonlySignal<Unsent>;
  /** Whether the log has been read from the disk. */
  readonly ready = signal(false);
  /** Told after each durable record. */
  onRecorded: () => void = () => undefined;

  private readonly folds = new Folds();
  private readonly waiting = signal<ReadonlyMap<string, string>>(new Map());
  private readonly rejected = signal<readonly Rejected[]>([]);
  private readonly inFlight = new Map<EventId, Event>();
  /** What waits to be sent, as it would be written again. */
  private readonly held = new Map<string, Event>();
  private readonly queue = new WriteQueue((events) => this.keep(events));
  private clock: Clock | null = null;
  private writer: Writer | null = null;
  private offsetMs = 0;

  constructor(
    private readonly steady: Steady,
    private readonly channel: Channel,
    private readonly rawNow: () => number = () => Date.now(),
    private readonly onTrouble: (error: unknown) => void = () => undefined,
  ) {
    this.unsent = computed(() => ({
      count: this.waiting.value.size,
      oldestAt: oldest(this.waiting.value),
      rejected: this.rejected.value,
    }));
    channel.listen((message) => void this.hear(message));
  }

  get jobs(): ReadonlySignal<readonly JobView[]> {
    return this.folds.jobs;
  }

  jobView(id: JobId): ReadonlySignal<JobView | undefined> {
    return this.folds.view(id);
  }

  jobState(id: JobId): JobState {
    return this.folds.state(id);
  }

  authorsSince(id: JobId, sinceMs: number): ReadonlySet<PersonId> {
    return this.folds.authorsSince(id, sinceMs);
  }

  /** Reads the whole log from the disk. Also after this phone joined, left, or woke from a freeze. */
  async open(): Promise<void> {
    const found = await this.steady.run(async (db) => ({
      session: await readMeta(db, 'session'),
      clock: await readMeta(db, 'clock'),
      offsetMs: await readMeta(db, 'offsetMs'),
      events: await db.getAll('events'),
      waiting: await db.getAll('outbox'),
      rejected: await db.getAll('rejected'),
    }), wholeLogMs);
    const { session, clock } = found;
    this.writer = session ? { device: session.device as DeviceId, person: session.person as PersonId } : null;
    this.clock = session ? new Clock(session.device as DeviceId, clock?.ms, clock?.counter) : null;
    this.offsetMs = found.offsetMs ?? 0;
    this.folds.clear();
    this.folds.add([...found.events, ...this.inFlight.values()].sort(byClock));
    this.waiting.value = new Map(found.waiting.map(({ id, since }) => [id, since]));
    this.hold(found.events);
    this.rejected.value = found.rejected;
    this.ready.value = true;
  }

  /** Where the latest of all entries stands in their order; null when nobody has joined. */
  position(): string | null {
    return this.clock && writeClock(this.clock.ms, this.clock.counter, this.clock.device);
  }

  /** How far the phone's clock is behind the server's; what is written from now on is put right by it. */
  setOffset(offsetMs: number): void {
    this.offsetMs = offsetMs;
  }

  /** Writes an event. Shown before this returns to its caller's next turn; resolves when durable. */
  async record<K extends Kind>(job: JobId, kind: K, body: Bodies[K], at?: Date): Promise<EventId> {
    const event = this.stamp(job, kind, body, at);
    this.inFlight.set(event.id, event);
    this.folds.add([event]);
    try {
      await this.queue.push(event);
    } catch (error) {
      this.inFlight.delete(event.id);
      this.onTrouble(error);
      await this.rebuild([job]);
      throw error;
    }
    this.inFlight.delete(event.id);
    return event.id;
  }

  async events(id: JobId): Promise<Event[]> {
    const found = await this.steady.run((db) => db.getAllFromIndex('events', 'job', id));
    return found.sort(byClock);
  }

  /** Takes over what a settled answer changed on the disk. */
  async settled(settled: Settled): Promise<void> {
    for (const { clock } of settled.arrived) this.clock?.receive(clock, 0);
    if (settled.rewritten.length > 0) this.fallBack(settled.clock);
    this.release(settled.released);
    if (settled.arrived.length > 0) this.folds.add(settled.arrived);
    this.channel.post({ type: 'released', ids: settled.released });
    if (settled.arrived.length > 0) this.channel.post({ type: 'arrived', events: settled.arrived });
    const changed = [...settled.rejected.map(({ event }) => event), ...settled.rewritten].map(({ job }) => job);
    if (changed.length > 0 || settled.reoffered > 0) await this.changed(changed);
  }

  /** Takes over jobs that came to the disk, whole, or left it. */
  async moved(jobs: readonly JobId[], arrived: readonly Event[] = []): Promise<void> {
    for (const { clock } of arrived) this.clock?.receive(clock, 0);
    this.channel.post({ type: 'changed', jobs });
    await this.reread(jobs);
  }

  /** Takes over times that were put right on the disk. */
  async putRight(events: readonly Event[]): Promise<void> {
    if (events.length > 0) await this.changed(events.map(({ job }) => job));
  }

  async discardRejected(id: string): Promise<void> {
    await this.steady.run((db) => discardRejected(db, id));
    await this.changed([]);
  }

  /** Offers a rejected event once more, as it is. */
  async tryAgain(id: string): Promise<void> {
    const event = await this.steady.run((db) => offerAgain(db, id, this.nowText()));
    if (!event) return;
    await this.changed([event.job]);
    this.onRecorded();
  }

  /** Writes again what waits and what was refused, into a database that the browser has emptied. How many wait. */
  async refill(db: FieldDatabase): Promise<number> {
    const waiting = [...this.held.values()];
    const clock = { ms: this.clock?.ms ?? 0, counter: this.clock?.counter ?? 0 };
    for (const event of waiting) await writeOwn(db, [event], this.waiting.value.get(event.id) ?? this.nowText(), clock);
    await keepRejected(db, this.rejected.value);
    return waiting.length;
  }

  private stamp<K extends Kind>(job: JobId, kind: K, body: Bodies[K], at?: Date): Event {
    if (!this.writer || !this.clock) throw new NotJoined('Join your crew first: nothing can be written without a name.');
    return stamp(this.writer, this.clock, { rawMs: this.rawNow(), offsetMs: this.offsetMs }, job, kind, body, at) as Event;
  }

  /** The server set far-ahead clocks back: so must this one, but never below what is still being written. */
  private fallBack(held: ClockState): void {
    if (!this.clock) return;
    const flying = [...this.inFlight.values()].map(({ clock }) => clock);
    this.clock.lower(writeClock(held.ms, held.counter, this.clock.device), ...flying);
  }

  private async keep(events: readonly Event[]): Promise<void> {
    const since = this.nowText();
    const clock = { ms: this.clock?.ms ?? 0, counter: this.clock?.counter ?? 0 };
    const write = (): Promise<void> => this.steady.run((db) => writeOwn(db, events, since, clock));
    await write().catch(async (error: unknown) => {
      if (!(error instanceof StorageFull)) throw error;
      this.onTrouble(error);
      await this.steady.run(makeRoom);
      await write();
    });
    this.wait(events, since);
    this.channel.post({ type: 'recorded', events, since });
    this.onRecorded();
  }

  private nowText(): string {
    return instant(this.rawNow() + this.offsetMs);
  }

  private wait(events: readonly Event[], since: string): void {
    const next = new Map(this.waiting.value);
    for (const { id } of events) if (!next.has(id)) next.set(id, since);
    this.waiting.value = next;
    this.hold(events);
  }

  private release(ids: readonly string[]): void {
    if (ids.length === 0) return;
    const next = new Map(this.waiting.value);
    for (const id of ids) next.delete(id);
    this.waiting.value = next;
    for (const id of ids) this.held.delete(id);
  }

  private hold(events: readonly Event[]): void {
    for (const event of events) if (this.waiting.value.has(event.id)) this.held.set(event.id, event);
  }

  private async changed(jobs: readonly JobId[]): Promise<void> {
    await this.reread(jobs);
    this.channel.post({ type: 'changed', jobs });
  }

  private async reread(jobs: readonly JobId[]): Promise<void> {
    const found = await this.steady.run(async (db) => ({ waiting: await db.getAll('outbox'), rejected: await db.getAll('rejected') }));
    this.waiting.value = new Map(found.waiting.map(({ id, since }) => [id, since]));
    for (const id of this.held.keys()) if (!this.waiting.value.has(id)) this.held.delete(id);
    this.rejected.value = found.rejected;
    await this.rebuild(jobs);
  }

  private async rebuild(jobs: readonly JobId[]): Promise<void> {
    for (const job of new Set(jobs)) {
      const events = await this.steady.run((db) => db.getAllFromIndex('events', 'job', job));
      this.hold(events);
      const flying = [...this.inFlight.values()].filter((event) => event.job === job);
      this.folds.rebuild(job, [...events, ...flying]);
    }
  }

  private async hear(message: Message): Promise<void> {
    if (message.type === 'recorded') {
      for (const { clock } of message.events) this.clock?.receive(clock, 0);
      this.folds.add(message.events);
      this.wait(message.events, message.since);
      this.onRecorded();
    } else if (message.type === 'arrived') this.folds.add(message.events);
    else if (message.type === 'released') this.release(message.ids);
    else if (message.type === 'changed') await this.reread(message.jobs).catch(this.onTrouble);
  }
}

function oldest(waiting: ReadonlyMap<string, string>): string | null {
  let found: string | null = null;
  for (const since of waiting.values()) if (found === null || since < found) found = since;
  return found;
}
