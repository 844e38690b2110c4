// What tabs and the service worker of one phone tell each other.
import type { Event } from '../event';
import type { JobId } from '../events';

export type Message =
  /** Own events, durable and waiting to be sent. */
  | { readonly type: 'recorded'; readonly events: readonly Event[]; readonly since: string }
  /** Events of others, durable. */
  | { readonly type: 'arrived'; readonly events: readonly Event[] }
  /** The server answers for these. */
  | { readonly type: 'released'; readonly ids: readonly string[] }
  /** Something left or changed in the log of these jobs, or in what is unsent: read it again. */
  | { readonly type: 'changed'; readonly jobs: readonly JobId[] }
  | { readonly type: 'session' }
  | { readonly type: 'outlook' }
  /** This phone worked out new times. */
  | { readonly type: 'worked' }
  | { readonly type: 'sync-state'; readonly state: unknown }
  /** Ask the tab that syncs to do so now. */
  | { readonly type: 'wake' };

export interface Channel {
  post(message: Message): void;
  listen(hear: (message: Message) => void): () => void;
}

/** The real one; alone when the browser has none. */
export function openChannel(name = 'slabtide'): Channel {
  if (typeof BroadcastChannel === 'undefined') return { post: () => undefined, listen: () => () => undefined };
  const channel = new BroadcastChannel(name);
  return {
    post: (message) => channel.postMessage(message),
    listen(hear) {
      const on = (event: MessageEvent<Message>): void => hear(event.data);
      channel.addEventListener('message', on);
      return () => channel.removeEventListener('message', on);
    },
  };
}
