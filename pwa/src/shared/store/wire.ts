// The event as it travels: the fields of the contract and nothing the server or this phone added.
import type { Event } from '../event';

export function wire(event: Event): Event {
  const { id, job, kind, body, at, clock, device, author, raw_at } = event;
  return { id, job, kind, body, at, clock, device, author, raw_at } as Event;
}
