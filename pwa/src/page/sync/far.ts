// Which jobs a phone of a company of thousands knows only by their log: their times stay with the server until asked for.
import type { JobView } from '../../shared/job';
import type { Outlook } from './contract';

/** Whether the server left the job out of what it told, as one of too many. One not looked at yet is not left out. */
export function isLeftOut(told: Outlook, job: string): boolean {
  return Boolean(told.left_out) && !Object.hasOwn(told.jobs, job) && !told.carried?.includes(job);
}

/** Whether a job's times are with the server and not on this phone. A job begun after the server last told has none there. */
export function isFar(told: Outlook | null, { id, opened }: Pick<JobView, 'id' | 'opened'>): boolean {
  return told !== null && isLeftOut(told, id) && Date.parse(opened?.at ?? '') <= Date.parse(told.server_time);
}
