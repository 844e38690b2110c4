import { describe, expect, it } from 'vitest';
import {
  closingFrom, minutesToOpen, stateWord, timeLeft, type WorkWindow,
} from '../../../pwa/src/page/look/tide/window';

const at = (clock: string): string => `2026-07-14T${clock}:00.000Z`;
const when = (early: string, likely: string, late: string) => ({ early: at(early), likely: at(likely), late: at(late) });
const texture: WorkWindow = { opens: when('09:40', '10:00', '10:30'), closes: when('11:10', '11:30', '11:50') };
const wash: WorkWindow = { opens: when('09:00', '10:00', '11:00'), closes: null };
const state = (clock: string, window = texture) => stateWord(new Date(at(clock)), window);

describe('the state word', () => {
  it('turns at the likely opening and the likely close, to the minute', () => {
    expect([state('09:59'), state('10:00'), state('11:29'), state('11:30')]).toEqual(['too_soft', 'ready', 'closing', 'past']);
  });

  it('says closing in the last fifth before the early close, while there is still time to act', () => {
    expect(closingFrom(texture)).toBe(Date.parse(at('10:56')));
    expect([state('10:55'), state('10:56'), state('11:20')]).toEqual(['ready', 'closing', 'closing']);
  });

  it('says closing at least ten minutes and at most an hour before the early close', () => {
    const short = { opens: when('10:00', '10:00', '10:00'), closes: when('10:30', '11:00', '11:00') };
    const long = { opens: when('01:00', '01:00', '01:00'), closes: when('11:00', '15:00', '19:00') };
    expect(closingFrom(short)).toBe(Date.parse(at('10:20')));
    expect(closingFrom(long)).toBe(Date.parse(at('10:00')));
  });

  it('never says closing before the window is likely open', () => {
    const brief = { opens: when('10:00', '10:20', '10:40'), closes: when('10:10', '10:30', '10:50') };
    expect([state('10:19', brief), state('10:20', brief)]).toEqual(['too_soft', 'closing']);
  });

  it('stays ready for ever where only a least age counts', () => {
    expect(state('23:59', wash)).toBe('ready');
    expect(timeLeft(new Date(at('23:59')), wash)).toBeNull();
  });
});

describe('what is left', () => {
  it('runs to the early close while that is ahead, because a slab can not be poured twice', () => {
    expect(timeLeft(new Date(at('10:35')), texture)).toEqual({ minutes: 35, by: new Date(at('11:10')), kind: 'safe' });
  });

  it('runs to the likely close once the early one is gone, and says that it is only even', () => {
    expect(timeLeft(new Date(at('11:20')), texture)).toMatchObject({ minutes: 10, kind: 'even' });
    expect(timeLeft(new Date(at('11:31')), texture)).toBeNull();
  });

  it('never promises a minute that is not whole, and never opens a minute too soon', () => {
    const odd = new Date(Date.parse(at('10:35')) + 1);
    expect(timeLeft(odd, texture)?.minutes).toBe(34);
    expect(minutesToOpen(new Date(Date.parse(at('09:30')) + 1), texture)).toBe(30);
    expect(minutesToOpen(new Date(at('10:01')), texture)).toBe(0);
  });
});
