import { describe, expect, it } from 'vitest';
import { readNumber, stepTo } from '../../../pwa/src/page/look/number';

describe('a typed number', () => {
  it.each([['24', 24], [' 3,5 ', 3.5], ['-4', -4], ['−4', -4], ['.5', 0.5], ['7.', 7]])('%j is %d', (text, value) => {
    expect(readNumber(text, {})).toEqual({ value, problem: null });
  });

  it.each(['abc', '1e5', '1.2.3', '1,000.5', '--2', 'Infinity'])('%j is not taken for a number', (text) => {
    expect(readNumber(text, {}).problem).toBe('not_a_number');
  });

  it('outside the limits says which side', () => {
    expect(readNumber('1', { min: 2, max: 45 }).problem).toBe('too_low');
    expect(readNumber('46', { min: 2, max: 45 }).problem).toBe('too_high');
    expect(readNumber('45', { min: 2, max: 45 })).toEqual({ value: 45, problem: null });
  });

  it('left empty is nothing, not a mistake', () => {
    expect(readNumber('  ', { min: 2 })).toEqual({ value: null, problem: null });
  });
});

describe('a step', () => {
  it('counts from what is typed, then from what was kept, then from the least', () => {
    expect([stepTo('10', 4, 1, {}), stepTo('', 4, 1, {}), stepTo('', null, 1, { min: 35 })]).toEqual([11, 5, 36]);
  });

  it('stays inside the limits and free of float dust', () => {
    expect(stepTo('45', null, 1, { max: 45 })).toBe(45);
    expect(stepTo('0.2', null, 0.1, {})).toBe(0.3);
  });
});
