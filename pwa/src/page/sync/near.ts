// Which jobs' outlooks this phone asks for: those the server finds near, those opened here lately, and the one open now.
import { effect, untracked } from '@preact/signals';
import { write } from '../../shared/store/database';
import { getMeta, putMeta, readMeta } from '../../shared/store/meta';
import type { JobView } from '../../shared/job';
import { storage } from '../log/storage';
import { CallFailed, callJson } from './call';
import type { JobOutlook, Outlook, Reminder } from './contract';
import type { Cached } from './etag';

export const MOST_LATELY = 20;
/** The server refuses the whole call where one id is none. */
const jobId = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;

/** What the server tells of one job. `outlook` is null until it has looked at it. */
export type ToldOfOne = { readonly outlook: JobOutlook | null; readonly reminders: readonly Reminder[] };
type Job = Pick<JobView, 'id' | 'opened'>;

/** One job's outlook and reminders, whether this phone carries it or not. Throws CallFailed. */
export function askOfOne(job: string): Promise<ToldOfOne> {
  return callJson<ToldOfOne>(`/api/jobs/${encodeURIComponent(job)}/outlook`);
}

/** The jobs opened on this phone lately, the last one first, in whichever tab. */
export async function lately(): Promise<readonly string[]> {
  return (await storage.run((db) => readMeta(db, 'lately'))) ?? [];
}

/** Notes that a job was opened. */
export async function noteOpened(job: string): Promise<void> {
  if (!jobId.test(job)) return;
  await storage.run((db) => write(db, ['meta'], async (tx) => {
    const meta = tx.objectStore('meta');
    const before = (await getMeta(meta, 'lately')) ?? [];
    if (before[0] !== job) await putMeta(meta, 'lately', [job, ...before.filter((one) => one !== job)].slice(0, MOST_LATELY));
  }));
}

/** What of the outlook to ask for. */
export async function asked(): Promise<string> {
  const kept = await lately();
  return kept.length === 0 ? '?near=1' : `?near=1&keep=${kept.join(',')}`;
}

/** What the server told, and what this phone fetched of a job opened since the server was asked. */
export async function withFetched(told: Outlook, before: () => Outlook | null): Promise<Outlook> {
  const kept = await lately();
  const had = before();
  if (!told.carried || had?.company.id !== told.company.id) return told;
  return kept.reduce((all, job) => (all.carried?.includes(job) || !had.carried?.includes(job) ? all : withOne(all, job, {
    outlook: had.jobs[job] ?? null,
    reminders: had.reminders.filter((one) => one.job === job),
  })), told);
}

/** An outlook with one more job in it. */
export function withOne(all: Outlook, job: string, { outlook, reminders }: ToldOfOne): Outlook {
  return {
    ...all,
    carried: [...(all.carried ?? []).filter((one) => one !== job), job],
    jobs: outlook ? { ...all.jobs, [job]: outlook } : all.jobs,
    reminders: [...all.reminders.filter((one) => one.job !== job), ...reminders],
  };
}

/** Notes that a job is open, and brings its outlook as long as it is not carried. Returns how to stop. */
export async function follow(job: Job, cached: Cached<Outlook>, onNews: () => void): Promise<() => void> {
  await noteOpened(job.id);
  let askedAfter = '';
  return effect(() => {
    const told = cached.value.value;
    if (!told || told.server_time === askedAfter || !isMissing(told, job)) return;
    askedAfter = told.server_time;
    untracked(() => void bring(job.id, cached).then((news) => news && onNews()));
  });
}

/** An older server tells of all jobs, and of none by itself; and it can't know a job begun after it was asked. */
function isMissing(told: Outlook, { id, opened }: Job): boolean {
  return Boolean(told.carried) && !told.carried?.includes(id) && jobId.test(id) && Date.parse(opened?.at ?? '') <= Date.parse(told.server_time);
}

async function bring(job: string, cached: Cached<Outlook>): Promise<boolean> {
  if (!navigator.onLine) return false; // the next sync asks for it with the others
  try {
    const found = await askOfOne(job);
    await cached.change((told) => (told.carried?.includes(job) ? told : withOne(told, job, found)));
    return true;
  } catch (error) {
    if (error instanceof CallFailed) return false; // as above
    throw error;
  }
}
