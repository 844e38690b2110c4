import { useEffect, useState } from 'preact/hooks';
import type { Event } from '../../shared/event';
import type { JobId } from '../../shared/events';
import { JobFold } from '../../shared/fold';
import { viewJob, type JobView } from '../../shared/job';
import { book, jobView } from '../log/journal';
import { sayError } from '../shell/trouble';
import { callJson } from '../sync/call';
import type { JobOutlook, Reminder } from '../sync/contract';
import { askOfOne } from '../sync/near';
import { outlook } from '../sync/outlook';

export interface FarJob {
  readonly job: JobView | undefined;
  /** Its entries, where they came from the server and not from this device. */
  readonly events: readonly Event[] | null;
  readonly problem: string | null;
}

/** A job from this device, or, while it has not come here yet, as the server has it now. */
export function useJob(id: JobId): FarJob {
  const found = jobView(id).value;
  const here = found?.opened ? found : undefined; // of one let go an entry of this phone's own may be here alone
  const ready = book.ready.value;
  const [far, setFar] = useState<FarJob | null>(null);
  useEffect(() => {
    setFar(null);
    if (here) return undefined;
    let current = true;
    callJson<{ events: readonly Event[] }>(`/api/jobs/${encodeURIComponent(id)}/export.json`).then(
      ({ events }) => current && setFar({ job: folded(id, events), events, problem: null }),
      (error: unknown) => current && setFar({ job: undefined, events: null, problem: sayError(error) }),
    );
    return () => {
      current = false;
    };
  }, [id, here === undefined, ready]);
  return here ? { job: here, events: null, problem: null } : (far ?? { job: undefined, events: null, problem: null });
}

function folded(id: JobId, events: readonly Event[]): JobView {
  const fold = new JobFold(id);
  for (const event of events) fold.add(event);
  return viewJob(fold.state);
}

export interface Told {
  /** Null until it is known, and for a job nobody has looked at yet. */
  readonly look: JobOutlook | null;
  readonly reminders: readonly Reminder[];
  readonly problem: string | null;
}

const NOTHING: Told = { look: null, reminders: [], problem: null };

/** A job's times and reminders as this device carries them, or, for one it does not carry (closed, or one of thousands), as the server has them. */
export function useTold(id: JobId): Told {
  const carried = outlook.value;
  const here = carried?.jobs[id];
  const [far, setFar] = useState<Told>(NOTHING);
  useEffect(() => {
    if (here) return undefined;
    let current = true;
    askOfOne(id).then(
      (told) => current && setFar({ look: told.outlook, reminders: told.reminders, problem: null }),
      (error: unknown) => current && setFar({ ...NOTHING, problem: sayError(error) }),
    );
    return () => {
      current = false;
    };
  }, [id, here === undefined, carried?.server_time]);
  if (!here) return far;
  return { look: here, reminders: (carried?.reminders ?? []).filter((one) => one.job === id), problem: null };
}
