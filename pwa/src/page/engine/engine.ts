// The worker as the page holds it: started once, asked one question after another, started anew when it breaks.
import type { Answer, Asked, EngineFiles, FromEngine, Question, ToEngine } from '../../engine-worker/contract';

/** As much of a Worker as is used here. */
export interface Hand {
  postMessage(message: ToEngine): void;
  terminate(): void;
  onmessage: ((event: MessageEvent<FromEngine>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
}

export type Answered = { readonly answer: Answer; readonly ms: number };
type Found = { readonly answer: unknown; readonly ms: number };
type Waiting = { readonly resolve: (found: Found) => void; readonly reject: (error: Error) => void };

const longestAnswerMs = 60_000;

export class EngineFailed extends Error {
  override readonly name = 'EngineFailed';
}

export class Engine {
  private hand: Hand | null = null;
  private started: Promise<number> | null = null;
  private readonly waiting = new Map<number, Waiting>();
  private next = 0;

  constructor(private readonly makeHand: () => Hand, private readonly files: EngineFiles, private readonly longestMs = longestAnswerMs) {}

  /** Starts the worker; gives how long that took [ms]. Rejects when it can't run here. */
  start(): Promise<number> {
    this.started ??= new Promise((resolve, reject) => {
      const hand = this.makeHand();
      this.hand = hand;
      hand.onmessage = ({ data }) => {
        if (data.type === 'ready') resolve(data.ms);
        else if (data.type === 'outlook' || data.type === 'decided') this.settle(data.id)?.resolve({ answer: data.answer, ms: data.ms });
        else if (data.type === 'failed' && data.id !== null) this.settle(data.id)?.reject(new EngineFailed(data.why));
        else if (data.type === 'failed') reject(new EngineFailed(data.why));
      };
      hand.onerror = (event) => {
        const broken = new EngineFailed(event.message || 'the worker broke');
        reject(broken);
        this.failAll(broken);
      };
      hand.postMessage({ type: 'start', files: this.files });
    });
    return this.started;
  }

  /** Asks; after a failure the worker is put away, and the next question starts another. */
  async ask(question: Question): Promise<Answered> {
    return (await this.send((id) => ({ type: 'work', id, question }))) as Answered;
  }

  /** Asks what would happen if, or when to pour; the answer is the server's own. */
  async decide(asked: Asked): Promise<unknown> {
    return (await this.send((id) => ({ type: asked.decide, id, asked }))).answer;
  }

  private async send(message: (id: number) => ToEngine): Promise<Found> {
    await this.start();
    const id = this.next++;
    const timer = setTimeout(() => this.settle(id)?.reject(new EngineFailed('no answer in time')), this.longestMs);
    try {
      return await new Promise<Found>((resolve, reject) => {
        this.waiting.set(id, { resolve, reject });
        this.hand?.postMessage(message(id));
      });
    } catch (error) {
      this.stop();
      throw error;
    } finally {
      clearTimeout(timer);
    }
  }

  stop(): void {
    this.hand?.terminate();
    this.hand = null;
    this.started = null;
    this.failAll(new EngineFailed('stopped'));
  }

  private settle(id: number): Waiting | undefined {
    const found = this.waiting.get(id);
    this.waiting.delete(id);
    return found;
  }

  private failAll(error: Error): void {
    for (const { reject } of this.waiting.values()) reject(error);
    this.waiting.clear();
  }
}
