// The server as the contract describes it, in memory: enough to hold the phone's side to its word.
import { writeClock, readClock } from '../../../pwa/src/shared/clock';
import type { Event } from '../../../pwa/src/shared/event';
import type { SyncRequest } from '../../../pwa/src/shared/store/answer';

type Stored = Event & { seq: number; received_at: string };
const mostAheadMs = 300_000;
const json = (body: unknown, status = 200): Response =>
  new Response(JSON.stringify(body), { status, headers: { 'Content-Type': 'application/json' } });

export class ServerModel {
  epoch = 'epoch-1';
  readonly log: Stored[] = [];
  readonly devices = new Map<string, string>();
  /** Why an event would not be taken; null takes it. */
  refuse: (event: Event) => string | null = () => null;
  calls = 0;
  offered = 0;

  constructor(public nowMs: () => number) {}

  enrol(device: string): string {
    const token = `token-${device}`;
    this.devices.set(token, device);
    return token;
  }

  revoke(device: string): void {
    this.devices.delete(`token-${device}`);
  }

  /** Back to an earlier state, as from a backup, under a new epoch. */
  restore(keep: number): void {
    this.log.length = keep;
    this.epoch = `epoch-${Number(this.epoch.split('-')[1]) + 1}`;
  }

  /** What this device is to carry of a company of many jobs. */
  carried: readonly string[] = [];

  async fetch(path: string, init: RequestInit = {}): Promise<Response> {
    this.calls += 1;
    const headers = new Headers(init.headers);
    const device = this.devices.get((headers.get('Authorization') ?? '').replace('Bearer ', ''));
    if (device === undefined) return json({ error: { code: 'device_revoked', message: 'Signed out.', do: 'Join again.' } }, 401);
    const url = new URL(path, 'http://here');
    if (url.pathname !== '/api/sync') return this.told(url, device);
    return json(this.exchange(device, JSON.parse(await bodyText(init, headers)) as SyncRequest));
  }

  private exchange(device: string, request: SyncRequest): unknown {
    const accepted: string[] = [];
    const rejected: unknown[] = [];
    const clamped: Record<string, string> = {};
    for (const event of request.events) {
      this.offered += 1;
      const why = event.device === device ? this.refuse(event) : 'wrong_device';
      if (why !== null) {
        rejected.push({ id: event.id, why: { code: why, message: 'No.', do: 'Discard it.' } });
        continue;
      }
      const kept = this.keep(event);
      accepted.push(event.id);
      if (kept.clock !== event.clock) clamped[event.id] = kept.clock;
    }
    const fits = this.log.filter(({ device: from, job }) => (request.own === true || from !== device) && (request.held?.includes(job) ?? true));
    return { accepted, rejected, clamped, ...this.page(fits, request.cursor, 50) };
  }

  private page(log: readonly Stored[], after: number, most: number): object {
    const fresh = log.filter(({ seq }) => seq > after);
    const given = fresh.slice(0, most);
    const more = fresh.length > given.length;
    const top = this.log.at(-1)?.seq ?? 0;
    return {
      events: given, more, cursor: more ? given.at(-1)?.seq : Math.max(top, after),
      epoch: this.epoch, server_time: new Date(this.nowMs()).toISOString(),
    };
  }

  /** The calls beside sync. */
  private told(url: URL, device: string): Response {
    const jobs = [...new Set(this.log.map(({ job }) => job as string))];
    const one = /^\/api\/jobs\/([^/]+)\/events$/.exec(url.pathname)?.[1];
    if (one !== undefined) {
      const most = Math.min(3, Number(url.searchParams.get('limit')));
      return json(this.page(this.log.filter(({ job }) => job === one), Number(url.searchParams.get('after')), most));
    }
    if (url.pathname === '/api/jobs') return json({ version: 1, jobs: [], total: jobs.length });
    const keep = url.searchParams.get('keep')?.split(',') ?? [];
    const carried = [...new Set([...this.carried, ...keep])].filter((job) => jobs.includes(job));
    return json({ epoch: this.epoch, server_time: new Date(this.nowMs()).toISOString(), me: { device }, carried, left_out: jobs.length - carried.length, jobs: {}, reminders: [] });
  }

  private keep(event: Event): Stored {
    const known = this.log.find(({ id }) => id === event.id);
    if (known) return known;
    const limit = this.nowMs() + mostAheadMs;
    const { ms, device } = readClock(event.clock);
    const clock = ms > limit ? writeClock(limit, this.log.filter((one) => readClock(one.clock).ms === limit).length, device) : event.clock;
    const stored = { ...event, clock, seq: (this.log.at(-1)?.seq ?? 0) + 1, received_at: new Date(this.nowMs()).toISOString() } as Stored;
    this.log.push(stored);
    return stored;
  }
}

async function bodyText(init: RequestInit, headers: Headers): Promise<string> {
  const body = new Blob([init.body as BlobPart]);
  if (headers.get('Content-Encoding') !== 'gzip') return body.text();
  return new Response(body.stream().pipeThrough(new DecompressionStream('gzip'))).text();
}
