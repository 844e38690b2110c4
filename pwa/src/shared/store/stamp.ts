// A new event of this phone: its id, its times and its place in the order of all events.
import type { Clock } from '../clock';
import { instant, type Event } from '../event';
import type { Bodies, DeviceId, EventId, JobId, Kind, PersonId } from '../events';
import { newId } from '../uuid';

export type Writer = { readonly device: DeviceId; readonly person: PersonId };
/** The phone's own reading, ms, and what to add to it to be right. */
export type Wall = { readonly rawMs: number; readonly offsetMs: number };

/** Stamps a body. `at` is when it happened, when a person says so; else now, and the raw reading is kept if it was wrong. */
export function stamp<K extends Kind>(
  writer: Writer, clock: Clock, wall: Wall, job: JobId, kind: K, body: Bodies[K], at?: Date,
): Event<K> {
  const right = wall.rawMs + wall.offsetMs;
  const event = {
    id: newId<EventId>(right),
    job,
    kind,
    // as it will travel: what JSON drops must not show here either
    body: JSON.parse(JSON.stringify(body)) as Bodies[K],
    at: instant(at ?? right),
    clock: clock.tick(right),
    device: writer.device,
    author: writer.person,
    raw_at: at === undefined && wall.offsetMs !== 0 ? instant(wall.rawMs) : null,
  };
  return event as unknown as Event<K>;
}
