// Every notice the engine can give has words in both languages, with its numbers in them.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { threats } from '../../../pwa/src/page/decide/loud';
import { sayNotice, toneOf } from '../../../pwa/src/page/decide/notice';
import { language, units } from '../../../pwa/src/page/shell/preferences';
import type { Warning } from '../../../pwa/src/page/sync/contract';
import { loadWords } from '../../../pwa/src/page/words';

type Values = NonNullable<Warning['params']>;
const samples = JSON.parse(readFileSync(join(import.meta.dirname, '../../vectors/notices.json'), 'utf8')) as Record<string, Values>;
const now = new Date('2026-07-14T12:00:00Z');

function warning(key: string): Warning {
  const [code = '', kind] = key.split('.');
  const params = { ...samples[key], ...(kind ? { case: kind } : {}) };
  return { code, load: null, from: '2026-07-14T13:00:00Z', to: '2026-07-14T14:00:00Z', text: 'as the engine says it', params };
}

const say = (key: string, spoken: 'en' | 'es', system: 'us' | 'metric'): string => {
  language.value = spoken;
  units.value = system;
  return sayNotice(warning(key), now, 'America/New_York') ?? '';
};

beforeAll(async () => {
  await loadWords('en');
  await loadWords('es');
});

describe.each(Object.keys(samples))('%s', (key) => {
  it.each([['en', 'us'], ['en', 'metric'], ['es', 'us'], ['es', 'metric']] as const)('is said in %s, %s', (spoken, system) => {
    const said = say(key, spoken, system);
    expect(said).toMatch(/\.$/);
    expect(said).not.toMatch(/[{}]|NaN|\?|undefined|as the engine says it/);
  });

  it('is said otherwise in Spanish', () => {
    expect(say(key, 'es', 'us')).not.toBe(say(key, 'en', 'us'));
  });
});

describe('what is said of a notice', () => {
  it('has its hour and its numbers in the person’s units', () => {
    expect(say('rain_on_placed.fresh', 'es', 'us')).toMatch(/0\.13.in desde 9:00.am/);
    expect(say('rain_on_placed.fresh', 'en', 'metric')).toMatch(/3\.2.mm from 9:00.am/);
  });

  it('names another way to joint where there is no window to saw', () => {
    const shut = { ...warning('no_safe_window.shut'), params: { case: 'shut', work: ['saw'] } };
    language.value = 'en';
    expect(sayNotice(shut, now, 'UTC')).toMatch(/sawing.*early-entry saw/);
  });

  it('is the engine’s own text, in English alone, where times are older than their numbers', () => {
    const { params: _, ...old } = warning('rain');
    language.value = 'en';
    expect(sayNotice(old, now, 'UTC')).toBe('as the engine says it');
    language.value = 'es';
    expect(sayNotice(old, now, 'UTC')).toBeNull();
  });

  it('is loud where concrete that lies there is in danger', () => {
    expect(toneOf({ code: 'frost_on_placed' })).toBe('stop');
    expect(toneOf({ code: 'rain' })).toBe('warn');
    expect(toneOf({ code: 'weather_ends' })).toBe('plain');
  });
});

describe('what threatens concrete that lies there', () => {
  const from = (code: string, load: string, hour: string) => ({ code, load, from: `2026-07-14T${hour}:00:00Z`, to: `2026-07-14T${hour}:59:00Z`, text: '' });

  it('is told once for all loads it comes over together, and apart where it comes apart', () => {
    const warnings = [from('rain_on_placed', 'a', '13'), from('rain_on_placed', 'b', '13'), from('rain_on_placed', 'a', '16')];
    expect(threats({ warnings }, now).map((one) => one.length)).toEqual([2, 1]);
  });

  it('is told neither when it is over, nor days ahead, nor where it is no threat', () => {
    const late = { ...from('frost_on_placed', 'a', '13'), from: '2026-07-16T13:00:00Z', to: '2026-07-16T14:00:00Z' };
    expect(threats({ warnings: [from('rain_on_placed', 'a', '10'), late, from('rain', 'a', '13')] }, now)).toEqual([]);
  });
});
