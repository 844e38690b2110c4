// The jobs as folded in memory. One signal per job, so that a tick redraws the job it belongs to and the lists.
import { batch, computed, signal, type ReadonlySignal, type Signal } from '@preact/signals';
import type { Event } from '../../shared/event';
import type { JobId, PersonId } from '../../shared/events';
import { JobFold, type JobState } from '../../shared/fold';
import { viewJob, type JobView } from '../../shared/job';

export class Folds {
  private readonly folds = new Map<JobId, JobFold>();
  private readonly views = new Map<JobId, Signal<JobView | undefined>>();
  private readonly ids = signal<readonly JobId[]>([]);

  /** Jobs that have been opened, newest first, closed ones last. */
  readonly jobs: ReadonlySignal<readonly JobView[]> = computed(() =>
    this.ids.value.flatMap((id) => this.view(id).value ?? []).filter((job) => job.opened).sort(byAge),
  );

  view(id: JobId): Signal<JobView | undefined> {
    const known = this.views.get(id);
    if (known) return known;
    const fresh = signal<JobView | undefined>(undefined);
    this.views.set(id, fresh);
    return fresh;
  }

  /** The job's log, folded; what its view was read from. */
  state(id: JobId): JobState {
    return this.foldOf(id).state;
  }

  authorsSince(id: JobId, sinceMs: number): ReadonlySet<PersonId> {
    return this.foldOf(id).authorsSince(sinceMs);
  }

  add(events: readonly Event[]): void {
    const touched = new Set<JobId>();
    for (const event of events) {
      this.foldOf(event.job).add(event);
      touched.add(event.job);
    }
    this.draw(touched);
  }

  /** Folds a job anew from all of its events. */
  rebuild(id: JobId, events: readonly Event[]): void {
    this.folds.set(id, new JobFold(id));
    const fold = this.foldOf(id);
    for (const event of events) fold.add(event);
    this.draw(new Set([id]));
  }

  clear(): void {
    batch(() => {
      this.folds.clear();
      for (const view of this.views.values()) view.value = undefined;
      this.ids.value = [];
    });
  }

  private foldOf(id: JobId): JobFold {
    const known = this.folds.get(id);
    if (known) return known;
    const fresh = new JobFold(id);
    this.folds.set(id, fresh);
    return fresh;
  }

  private draw(touched: ReadonlySet<JobId>): void {
    batch(() => {
      for (const id of touched) this.view(id).value = viewJob(this.foldOf(id).state);
      const ids = [...this.folds.keys()];
      if (ids.length !== this.ids.value.length) this.ids.value = ids;
    });
  }
}

function byAge(one: JobView, other: JobView): number {
  const closed = Number(Boolean(one.closed)) - Number(Boolean(other.closed));
  return closed || (other.opened?.at ?? '').localeCompare(one.opened?.at ?? '');
}
