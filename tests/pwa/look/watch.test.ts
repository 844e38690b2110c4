import { describe, expect, it } from 'vitest';
import { sayProblem } from '../../../pwa/src/page/decide/problem';
import { gatherNotices } from '../../../pwa/src/page/now/watch';
import { language } from '../../../pwa/src/page/shell/preferences';
import type { Warning } from '../../../pwa/src/page/sync/contract';
import { at, iso, job, jobOutlook, load, loadTimeline } from './sample';

const warn = (code: string, of: string | null, from: number, to: number): Warning => ({ code, load: of, from: iso(from), to: iso(to), text: code });
const poured = job('Oak Lane', { loads: [load('a', 4), load('b', 5)] });
const gathered = (warnings: readonly Warning[], hours: number | null) => {
  const { timeline } = jobOutlook([loadTimeline('a'), loadTimeline('b')]);
  if (!timeline) throw new Error('the sample has a timeline');
  return gatherNotices(poured, { ...timeline, warnings }, hours === null ? null : at(hours)).map(
    ({ warning, loads }) => [warning.code, loads, warning.from, warning.to] as const,
  );
};

describe('what to watch for', () => {
  it('tells the same notice for several loads once, over the time of both, by their numbers', () => {
    const both = [warn('crusting', 'a', 1, 3), warn('crusting', 'b', 2, 4)];
    expect(gathered(both, null)).toEqual([['crusting', [4, 5], iso(1), iso(4)]]);
  });

  it('leaves out what is over and what is more than six hours off', () => {
    const three = [warn('rain', null, 0, 2), warn('cold_air', null, 9, 12), warn('freezing', null, 9.1, 12)];
    expect(gathered(three, 3).map(([code]) => code)).toEqual(['cold_air']);
    expect(gathered(three, null)).toHaveLength(3);
  });

  it('keeps a notice for the whole pour apart from any load', () => {
    expect(gathered([warn('rain', null, 0, 2)], 1)[0]?.[1]).toEqual([]);
  });
});

describe('what is wrong', () => {
  const problem = { code: 'slab_missing', message: 'The slab is not drawn yet.', do: 'Draw it.' };
  it('is said in the server’s own words in English, by its code in Spanish', () => {
    language.value = 'en';
    expect(sayProblem(problem)).toEqual({ title: problem.message, todo: problem.do });
    language.value = 'es';
    expect(sayProblem(problem).title).toBe('La losa todavía no está dibujada.');
  });

  it('is never lost for want of a translation', () => {
    language.value = 'es';
    expect(sayProblem({ ...problem, code: 'brand_new' })).toEqual({ title: problem.message, todo: problem.do });
  });
});
