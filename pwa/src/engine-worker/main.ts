// The engine's worker: starts once, then answers one question after another.
import type { Answer, FromEngine, Question, ToEngine } from './contract';
import { startPython, type Work } from './python';

declare const self: DedicatedWorkerGlobalScope;

let starting: Promise<Work> | null = null;
const say = (message: FromEngine): void => self.postMessage(message);
const reason = (error: unknown): string => (error instanceof Error ? error.message : String(error));

self.addEventListener('message', ({ data }: MessageEvent<ToEngine>) => {
  if (data.type === 'start') starting ??= start(data.files);
  else void answer(data.id, data.question);
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

async function answer(id: number, question: Question): Promise<void> {
  try {
    if (!starting) throw new Error('asked before it was started');
    const work = await starting;
    const began = performance.now();
    const found = JSON.parse(work(JSON.stringify(question))) as Answer;
    say({ type: 'outlook', id, answer: found, ms: performance.now() - began });
  } catch (error) {
    say({ type: 'failed', id, why: reason(error) });
  }
}
