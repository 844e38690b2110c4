import { describe, expect, test } from 'vitest';
import { seekLead, type Locks } from '../../../pwa/src/page/sync/leader';
import { LARGEST, Pace, SMALLEST } from '../../../pwa/src/page/sync/pace';
import { restMs } from '../../../pwa/src/page/sync/rest';

describe('the batch', () => {
  test('halves on each failure, down to five and no further', () => {
    const pace = new Pace(200);
    const sizes = Array.from({ length: 8 }, () => {
      pace.failed(pace.batch, 1_000);
      return pace.batch;
    });
    expect(sizes).toEqual([100, 50, 25, 12, 6, SMALLEST, SMALLEST, SMALLEST]);
  });

  test('grows on success to five hundred, and sends 10,000 in at most 25 calls', () => {
    const pace = new Pace();
    let left = 10_000;
    let calls = 0;
    while (left > 0) {
      left -= pace.batch;
      calls += 1;
      pace.succeeded();
    }
    expect(pace.batch).toBe(LARGEST);
    expect(calls).toBeLessThanOrEqual(25);
  });

  test('after a failure it does not jump straight back to the size that failed', () => {
    const pace = new Pace(200);
    pace.failed(200, 1_000);
    pace.succeeded();
    expect(pace.batch).toBeLessThan(200);
  });

  test('asks for less in return too while the line is weak, for all there is when it is good', () => {
    const pace = new Pace(20);
    expect(pace.limit).toBeUndefined();
    pace.failed(20, 100);
    expect(pace.limit).toBe(40);
  });

  test('tries again at once with less, but rests longer and longer at the smallest', () => {
    const pace = new Pace(20);
    pace.failed(20, 100);
    expect(pace.waitMs(1)).toBeLessThanOrEqual(200);
    const waits = Array.from({ length: 12 }, () => {
      pace.failed(5, 100);
      return pace.waitMs(1);
    });
    expect(Math.max(...waits)).toBe(15_000);
  });
});

/** Web Locks as the browser keeps them: one holder, the others in line, and one who takes it away. */
class OneLock implements Locks {
  private line: (() => void)[] = [];
  private lose: ((reason: Error) => void) | null = null;

  request(_name: string, options: { steal?: boolean }, hold: () => Promise<void>): Promise<void> {
    return new Promise((resolve, reject) => {
      const begin = (): void => {
        this.lose = reject;
        const ended = (): void => {
          if (this.lose !== reject) return;
          this.lose = null;
          resolve();
          this.line.shift()?.();
        };
        void hold().then(ended);
      };
      if (options.steal) {
        this.lose?.(new DOMException('stolen', 'AbortError'));
        begin();
      } else if (this.lose === null) begin();
      else this.line.push(begin);
    });
  }
}

const settled = (): Promise<void> => new Promise((resolve) => setTimeout(resolve));

test('of twelve tabs one leads; when it goes another takes over, until the last', async () => {
  const locks = new OneLock();
  const order: number[] = [];
  const leads = Array.from({ length: 12 }, (_, tab) => seekLead(locks, { onLead: () => order.push(tab), onLoss: () => undefined }));
  for (let gone = 0; gone < 12; gone += 1) {
    await settled();
    expect(order).toHaveLength(gone + 1);
    leads[order.at(-1) ?? 0]?.release();
  }
  expect(new Set(order).size).toBe(12);
});

test('a tab that is gone before its turn never leads', async () => {
  const locks = new OneLock();
  const led: string[] = [];
  const first = seekLead(locks, { onLead: () => led.push('first'), onLoss: () => undefined });
  const second = seekLead(locks, { onLead: () => led.push('second'), onLoss: () => undefined });
  second.release();
  first.release();
  await settled();
  expect(led).toEqual(['first']);
});

test('a sleeping leader is relieved, knows it, and comes back in line', async () => {
  const locks = new OneLock();
  const log: string[] = [];
  const tab = (name: string) => seekLead(locks, { onLead: () => log.push(`${name} leads`), onLoss: () => log.push(`${name} lost`) });
  tab('sleeper');
  const awake = tab('awake');
  awake.take();
  await settled();
  expect(log).toEqual(['sleeper leads', 'awake leads', 'sleeper lost']);
  awake.release();
  await settled();
  expect(log.at(-1)).toBe('sleeper leads');
});

test('without Web Locks a tab leads at once', () => {
  const led: string[] = [];
  seekLead(undefined, { onLead: () => led.push('alone'), onLoss: () => undefined });
  expect(led).toEqual(['alone']);
});

test('rests longer when nobody looks or the battery is low', () => {
  expect(restMs(false, null)).toBe(15_000);
  expect(restMs(true, null)).toBe(60_000);
  expect(restMs(false, { charging: false, level: 0.15 })).toBe(60_000);
  expect(restMs(false, { charging: true, level: 0.15 })).toBe(15_000);
});
