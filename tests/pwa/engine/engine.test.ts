import { describe, expect, test, vi } from 'vitest';
import type { Answer, FromEngine, Question, ToEngine } from '../../../pwa/src/engine-worker/contract';
import { Engine, type Hand } from '../../../pwa/src/page/engine/engine';

const files = { runtime: '/engine/r/', code: '/engine/c.zip', zones: '/engine/z.zip' };
const question = { job: 'j' } as Question;

/** A worker in name: keeps what it is told, says what it is told to say. */
class Puppet implements Hand {
  onmessage: Hand['onmessage'] = null;
  onerror: Hand['onerror'] = null;
  readonly heard: ToEngine[] = [];
  ended = false;
  postMessage(message: ToEngine): void {
    this.heard.push(message);
  }
  terminate(): void {
    this.ended = true;
  }
  say(data: FromEngine): void {
    this.onmessage?.({ data } as MessageEvent<FromEngine>);
  }
  asked(): number[] {
    return this.heard.flatMap((message) => (message.type === 'work' ? [message.id] : []));
  }
}

function made(longestMs?: number): { engine: Engine; puppets: Puppet[] } {
  const puppets: Puppet[] = [];
  const engine = new Engine(() => {
    const puppet = new Puppet();
    puppets.push(puppet);
    return puppet;
  }, files, longestMs);
  return { engine, puppets };
}

const answer = (job: string): Answer => ({ job }) as Answer;
const turn = (): Promise<void> => new Promise((resolve) => { setTimeout(resolve); });

describe('the worker as the page holds it', () => {
  test('starts once and tells how long it took', async () => {
    const { engine, puppets } = made();
    const both = Promise.all([engine.start(), engine.start()]);
    puppets[0]?.say({ type: 'progress', step: 'runtime' });
    puppets[0]?.say({ type: 'ready', ms: 1200 });
    expect(await both).toEqual([1200, 1200]);
    expect(puppets.map(({ heard }) => heard)).toEqual([[{ type: 'start', files }]]);
  });

  test('gives each question its own answer, whatever their order', async () => {
    const { engine, puppets } = made();
    const asked = [engine.ask(question), engine.ask(question)];
    puppets[0]?.say({ type: 'ready', ms: 1 });
    await turn();
    const [first, second] = puppets[0]?.asked() ?? [];
    puppets[0]?.say({ type: 'outlook', id: second ?? -1, answer: answer('two'), ms: 5 });
    puppets[0]?.say({ type: 'outlook', id: first ?? -1, answer: answer('one'), ms: 5 });
    expect((await Promise.all(asked)).map((found) => found.answer.job)).toEqual(['one', 'two']);
  });

  test('that can’t start says why', async () => {
    const { engine, puppets } = made();
    const started = engine.start();
    puppets[0]?.say({ type: 'failed', id: null, why: 'out of memory' });
    await expect(started).rejects.toThrow('out of memory');
  });

  test('that fails at a question is put away, and another answers the next', async () => {
    const { engine, puppets } = made();
    const asked = engine.ask(question);
    puppets[0]?.say({ type: 'ready', ms: 1 });
    await turn();
    puppets[0]?.say({ type: 'failed', id: puppets[0].asked()[0] ?? -1, why: 'a trap' });
    await expect(asked).rejects.toThrow('a trap');
    expect(puppets[0]?.ended).toBe(true);
    const again = engine.ask(question);
    puppets[1]?.say({ type: 'ready', ms: 1 });
    await turn();
    puppets[1]?.say({ type: 'outlook', id: puppets[1].asked()[0] ?? -1, answer: answer('later'), ms: 5 });
    expect((await again).answer.job).toBe('later');
  });

  test('that breaks lets nobody wait', async () => {
    const { engine, puppets } = made();
    const asked = engine.ask(question);
    puppets[0]?.say({ type: 'ready', ms: 1 });
    await turn();
    puppets[0]?.onerror?.({ message: 'gone' } as ErrorEvent);
    await expect(asked).rejects.toThrow('gone');
  });

  test('that falls silent is given up', async () => {
    vi.useFakeTimers();
    const { engine, puppets } = made(500);
    const asked = engine.ask(question);
    puppets[0]?.say({ type: 'ready', ms: 1 });
    const failed = expect(asked).rejects.toThrow('no answer in time');
    await vi.advanceTimersByTimeAsync(600);
    await failed;
    vi.useRealTimers();
  });
});
