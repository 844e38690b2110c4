// The last look of the job list, kept where it can be read before the database opens: the first screen draws at once.
import { effect } from '@preact/signals';
import type { JobId } from '../../shared/events';
import type { JobView, Phase } from '../../shared/job';

export type JobLine = {
  readonly id: JobId;
  readonly name: string;
  readonly place: string | null;
  readonly phase: Phase;
  readonly closed: boolean;
};
/** `unsent`: how much waited to be sent, and since when. */
export type Glance<Who> = { readonly me: Who; readonly jobs: readonly JobLine[]; readonly unsent?: { readonly count: number; readonly oldestAt: string | null } };

const key = 'slabtide.glance';
const most = 100;

export const lineOf = (job: JobView): JobLine => ({
  id: job.id,
  name: job.name,
  place: job.opened?.place ?? null,
  phase: job.phase,
  closed: job.closed !== null,
});

/** What was there last; null when nobody had joined or the browser keeps nothing. */
export function readGlance<Who>(): Glance<Who> | null {
  try {
    const text = localStorage.getItem(key);
    return text === null ? null : (JSON.parse(text) as Glance<Who>);
  } catch {
    return null; // no storage, or a form of an older version: the database tells in a moment
  }
}

/** Keeps the look up to date; `look` gives null when nobody has joined. */
export function keepGlance<Who>(look: () => (Omit<Glance<Who>, 'jobs'> & { readonly jobs: readonly JobView[] }) | null): () => void {
  return effect(() => {
    const seen = look();
    try {
      if (seen) localStorage.setItem(key, JSON.stringify({ ...seen, jobs: seen.jobs.slice(0, most).map(lineOf) }));
      else localStorage.removeItem(key);
    } catch {
      // no storage or full: the next start draws a moment later
    }
  });
}
