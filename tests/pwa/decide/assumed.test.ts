// Every assumption the office can make has words in both languages, with its numbers in the person's units.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { sayAssumed, sentencesOf } from '../../../pwa/src/page/decide/assumed';
import { language, units } from '../../../pwa/src/page/shell/preferences';
import { sayProblem } from '../../../pwa/src/page/decide/problem';
import { loadWords } from '../../../pwa/src/page/words';

const samples = JSON.parse(readFileSync(join(import.meta.dirname, '../../vectors/assumptions.json'), 'utf8')) as Record<string, Record<string, string | number>>;

const say = (code: string, spoken: 'en' | 'es', system: 'us' | 'metric'): string => {
  language.value = spoken;
  units.value = system;
  return sayAssumed({ code, params: samples[code] ?? {}, text: 'as the office says it' }) ?? '';
};

beforeAll(async () => {
  await loadWords('en');
  await loadWords('es');
});

describe.each(Object.keys(samples))('%s', (code) => {
  it.each([['en', 'us'], ['en', 'metric'], ['es', 'us'], ['es', 'metric']] as const)('is said in %s, %s', (spoken, system) => {
    expect(say(code, spoken, system)).toMatch(/\.$/);
    expect(say(code, spoken, system)).not.toMatch(/[{}]|NaN|\?|undefined|as the office says it/);
  });

  it('is said otherwise in Spanish', () => {
    expect(say(code, 'es', 'us')).not.toBe(say(code, 'en', 'us'));
  });
});

describe('what is taken for granted', () => {
  it('has its numbers in the person’s units', () => {
    expect(say('concrete_temperature', 'es', 'us')).toMatch(/4.°F/);
    expect(say('concrete_temperature', 'es', 'metric')).toMatch(/2.°C/);
    expect(say('usual_mix', 'es', 'us')).toMatch(/4,000.psi/);
    expect(say('longest_run', 'en', 'us')).toMatch(/20/);
  });

  it('is told in English by a server without codes, and left out in Spanish where the app is older', () => {
    expect(sentencesOf({ assumptions: ['Planned: one load.'] })).toEqual(['Planned: one load.']);
    language.value = 'es';
    expect(sentencesOf({ assumptions: ['x'], assumed: [{ code: 'of_tomorrow', params: {}, text: 'x' }] })).toEqual([]);
  });
});

describe('a problem', () => {
  const wrong = { code: 'load_wrong', message: 'Load 2, batch time: too late.', do: 'Correct it.', params: { load: 2 } };

  it('names its load and its day in Spanish', () => {
    language.value = 'es';
    expect(sayProblem(wrong).title).toBe('Carga 2: un dato no puede ser.');
    expect(sayProblem({ code: 'weather_short', message: 'x', do: 'y', params: { day: '2026-07-14' } }).title).toMatch(/martes/);
  });

  it('keeps the server’s closer words in English', () => {
    language.value = 'en';
    expect(sayProblem(wrong)).toEqual({ title: wrong.message, todo: wrong.do });
  });

  it('says in words of what age the times beside it are', () => {
    const stale = { ...wrong, message: 'Load 2. The times shown were computed at 2026-07-14T12:00:00Z.', params: { load: 2, said: wrong.message, times_of: '2026-07-14T12:00:00Z' } };
    for (const spoken of ['en', 'es'] as const) {
      language.value = spoken;
      expect(sayProblem(stale).title + sayProblem(stale).todo).not.toMatch(/2026-07-14T/);
      expect(sayProblem(stale).todo).toMatch(/The times shown are from|Las horas que se ven son de/);
    }
  });
});
