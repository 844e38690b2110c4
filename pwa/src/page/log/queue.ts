// Own events on their way to the disk. What is recorded while a write runs goes together in the next one.
import type { Event } from '../../shared/event';

type Entry = { readonly event: Event; readonly done: () => void; readonly failed: (error: unknown) => void };

export class WriteQueue {
  private waiting: Entry[] = [];
  private running = false;

  /** `write` must put by id, so that a second try does no harm. */
  constructor(private readonly write: (events: readonly Event[]) => Promise<void>) {}

  /** Resolves when the event is durable. */
  push(event: Event): Promise<void> {
    return new Promise((done, failed) => {
      this.waiting.push({ event, done, failed });
      if (!this.running) void this.run();
    });
  }

  private async run(): Promise<void> {
    this.running = true;
    while (this.waiting.length > 0) {
      const entries = this.waiting.splice(0, 1_000);
      try {
        await this.write(entries.map(({ event }) => event));
        for (const { done } of entries) done();
      } catch (error) {
        for (const { failed } of entries) failed(error);
      }
    }
    this.running = false;
  }
}
