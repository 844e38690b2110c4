// The engine's worker: starts once, then answers one question after another.
import type { Answer, Asked, FromEngine, Question, ToEngine } from './contract';
import { startPython, type Work } from './python';

declare const self: DedicatedWorkerGlobalScope;

let starting: Promise<Work> | null = null;
const say = (message: FromEngine): void => self.postMessage(message);
const reason = (error: unknown): string => (error instanceof Error ? error.message : String(error));

self.addEventListener('message', ({ data }: MessageEvent<ToEngine>) => {
  if (data.type === 'start') starting ??= start(data.files);
  else if (data.type === 'work') void answer(data.id, data.question, (found, ms) => ({ type: 'outlook', id: data.id, answer: found as Answer, ms }));
  else void answer(data.id, data.asked, (found, ms) => ({ type: 'decided', id: data.id, answer: found, ms }));
});

function start(files: Parameters<typeof startPython>[0]): Promise<Work> {
  const began = performance.now();
  const started = startPython(files, (step) => say({ type: 'progress', step }));
  started.then(
    () => say({ type: 'ready', ms: performance.now() - began }),
    (error: unknown) => say({ type: 'failed', id: null, why: reason(error) }),
  );
  return started;
}

async function answer(id: number, question: Question | Asked, told: (found: unknown, ms: number) => FromEngine): Promise<void> {
  try {
    if (!starting) throw new Error('asked before it was started');
    const work = await starting;
    const began = performance.now();
    const found: unknown = JSON.parse(work(JSON.stringify(question)));
    say(told(found, performance.now() - began));
  } catch (error) {
    say({ type: 'failed', id, why: reason(error) });
  }
}
