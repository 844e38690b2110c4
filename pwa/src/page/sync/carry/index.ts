// The one carrier of this page.
import { book, channel, jobs } from '../../log/journal';
import { storage } from '../../log/storage';
import { callJson } from '../call';
import { Carrier } from './carrier';

export { MOST_WHOLE, type Brought } from './carrier';

export const carrier = new Carrier(storage, {
  ask: (path) => callJson<unknown>(path),
  moved: (jobs, arrived) => book.moved(jobs, arrived),
  // what a page still shows of a database that was emptied is not held
  shown: () => new Set(jobs.peek().map(({ id }) => id)),
  isPressing: () => book.unsent.peek().count > 0,
  began: async () => {
    await book.open();
    channel.post({ type: 'session' });
  },
});
