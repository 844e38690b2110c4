// Asks the engine on this phone first, the server where that can't answer, and says what is missing where neither can.
import type { Asked } from '../../engine-worker/contract';
import type { JobId } from '../../shared/events';
import { decider } from '../engine/state';
import { jobState } from '../log/journal';
import { correctedNow } from '../shell/now';
import { CallFailed, callJson } from '../sync/call';
import { learnedOf, type Trouble } from '../sync/contract';
import { serverOutlook } from '../sync/outlook';

type Answer = { readonly problem: Trouble | null };
/** `missing`: no engine here and no signal. */
export type Told<T> = { readonly at: 'told'; readonly answer: T; readonly by: 'phone' | 'server' } | { readonly at: 'missing' } | { readonly at: 'trouble'; readonly trouble: Trouble };
export type Ways = { readonly phone: (() => Promise<unknown>) | null; readonly server: () => Promise<unknown> };

export async function askBoth<T extends Answer>({ phone, server }: Ways): Promise<Told<T>> {
  const here = phone ? await attempt<T>(phone) : null;
  if (here && !here.problem?.code.startsWith('weather')) return { at: 'told', answer: here, by: 'phone' };
  try {
    return { at: 'told', answer: (await server()) as T, by: 'server' };
  } catch (error) {
    if (!(error instanceof CallFailed)) throw error;
    if (here) return { at: 'told', answer: here, by: 'phone' }; // its weather may be short, but it is all there is
    return error.status === 0 ? { at: 'missing' } : { at: 'trouble', trouble: error.trouble };
  }
}

async function attempt<T>(ask: () => Promise<unknown>): Promise<T | null> {
  try {
    return (await ask()) as T;
  } catch (error) {
    console.warn(error);
    return null;
  }
}

export function askWhatIf<T extends Answer>(job: JobId, changes: readonly unknown[]): Promise<Told<T>> {
  return askBoth<T>({ phone: onThePhone(job, { decide: 'what_if', changes }), server: () => callJson(`/api/jobs/${job}/what-if`, { method: 'POST', body: { changes } }) });
}

export function askAdvice<T extends Answer>(job: JobId): Promise<Told<T>> {
  return askBoth<T>({ phone: onThePhone(job, { decide: 'advice' }), server: () => callJson(`/api/jobs/${job}/advice`) });
}

function onThePhone(id: JobId, asked: Pick<Asked, 'decide' | 'changes'>): Ways['phone'] {
  const ask = decider.peek();
  if (!ask) return null;
  const { job, set, items } = jobState(id);
  const hours = serverOutlook.peek()?.jobs[id]?.weather.hours ?? null;
  const learned = learnedOf(serverOutlook.peek(), id);
  return () => ask({ ...asked, now: correctedNow().toISOString(), state: { job, set, items }, hours, learned });
}
