// @vitest-environment happy-dom
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { now, startTicking } from '../../../pwa/src/page/shell/now';

let shown: DocumentVisibilityState = 'visible';
const show = (state: DocumentVisibilityState): void => {
  shown = state;
  document.dispatchEvent(new Event('visibilitychange'));
};
const changes = (ms: number): number => {
  let count = -1;
  const stop = now.subscribe(() => { count += 1; });
  vi.advanceTimersByTime(ms);
  stop();
  return count;
};

beforeEach(() => {
  vi.useFakeTimers();
  vi.spyOn(document, 'visibilityState', 'get').mockImplementation(() => shown);
});
afterEach(() => {
  vi.useRealTimers();
  shown = 'visible';
});

it('ticks four times a minute while seen, once while hidden, and at once when seen again', () => {
  const stop = startTicking();
  expect(changes(60_000)).toBe(4);
  show('hidden');
  expect(changes(120_000)).toBe(2);
  vi.advanceTimersByTime(30_000);
  const before = now.value;
  show('visible');
  expect(now.value.getTime() - before.getTime()).toBe(30_000);
  expect(changes(60_000)).toBe(4);
  stop();
  expect(changes(60_000)).toBe(0);
  show('hidden');
  expect(changes(600_000)).toBe(0);
});
