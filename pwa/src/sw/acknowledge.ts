// "Acknowledge" on the notification itself: into the same outbox as everything else, then sent at once if it can be.
import { Clock } from '../shared/clock';
import type { DeviceId, JobId, PersonId, ReminderId } from '../shared/events';
import type { Channel } from '../shared/store/channel';
import { readMeta, type Session } from '../shared/store/meta';
import { placeOf } from '../shared/store/place';
import { offer, type Fetch } from '../shared/store/offer';
import { settle } from '../shared/store/settle';
import { stamp } from '../shared/store/stamp';
import type { Steady } from '../shared/store/steady';
import { wire } from '../shared/store/wire';
import { writeOwn } from '../shared/store/write';
import type { Event } from '../shared/event';

export type Outcome = 'sent' | 'kept' | 'not joined';

/** Records the acknowledgement, durable before this goes on to the network; a failed call leaves it in the outbox. */
export async function acknowledge(
  steady: Steady, fetcher: Fetch, channel: Channel, reminder: string, job: string, rawMs: number,
): Promise<Outcome> {
  const kept = await keep(steady, reminder as ReminderId, job as JobId, rawMs);
  if (!kept) return 'not joined';
  channel.post({ type: 'recorded', events: [kept.event], since: kept.event.at });
  const sent = await send(steady, fetcher, channel, kept.session, kept.event, rawMs);
  return sent ? 'sent' : 'kept';
}

async function keep(steady: Steady, reminder: ReminderId, job: JobId, rawMs: number): Promise<{ session: Session; event: Event } | null> {
  const { session, state, offsetMs } = await steady.run(async (db) => ({
    session: await readMeta(db, 'session'),
    state: await readMeta(db, 'clock'),
    offsetMs: (await readMeta(db, 'offsetMs')) ?? 0,
  }));
  if (!session) return null;
  const writer = { device: session.device as DeviceId, person: session.person as PersonId };
  const clock = new Clock(writer.device, state?.ms, state?.counter);
  const event = stamp(writer, clock, { rawMs, offsetMs }, job, 'reminder.acknowledged', { reminder, via: 'notification' });
  await steady.run((db) => writeOwn(db, [event], event.at, { ms: clock.ms, counter: clock.counter }));
  return { session, event };
}

async function send(steady: Steady, fetcher: Fetch, channel: Channel, session: Session, event: Event, rawMs: number): Promise<boolean> {
  const { place, waiting } = await steady.run(async (db) => ({
    place: placeOf(await readMeta(db, 'carry'), await readMeta(db, 'cursor')),
    waiting: await db.count('outbox'),
  }));
  const outcome = await offer(fetcher, session.token, {
    ...place,
    events: [wire(event)],
    device_time: new Date(rawMs).toISOString(),
    unsent: Math.max(0, waiting - 1),
    ...(place.cursor === 0 ? { own: true } : {}),
  }, { timeoutMs: 15_000 });
  if (!outcome.ok) return false;
  const settled = await steady.run((db) => settle(db, outcome.answer, [event], place, session.device, outcome.answer.server_time));
  channel.post({ type: 'released', ids: settled.released });
  channel.post({ type: 'arrived', events: settled.arrived });
  if (settled.rejected.length + settled.reoffered > 0) channel.post({ type: 'changed', jobs: [event.job] });
  return settled.released.includes(event.id);
}
