// The two catalogues say the same things: a slot that one fills and the other forgets is a number nobody sees.
import { describe, expect, test } from 'vitest';
import { en } from '../../../pwa/src/page/words/en';
import { es } from '../../../pwa/src/page/words/es';

const keys = Object.keys(en) as (keyof typeof en)[];
const slots = (text: string): string[] => [...new Set([...text.matchAll(/\{(\w+)/g)].map((slot) => slot[1]!))].sort();
/** The same in both: symbols, numbers, names of things that have no other word. */
const isWordless = (text: string): boolean => !/\p{L}{4,}/u.test(text.replace(/\{[^}]*\}/g, ''));

/** Spelled alike in both. */
const ALIKE = ['Normal', 'Patio', 'Color'];

test('both languages have the same keys', () => {
  expect(Object.keys(es).sort()).toEqual([...keys].sort());
});

test('a text takes the same numbers in both languages', () => {
  const apart = keys.filter((key) => slots(en[key]).join() !== slots(es[key]).join());
  expect(apart.filter((key) => !key.startsWith('trouble.'))).toEqual([]);
});

test('no text is empty, and none was left in English', () => {
  const left = keys.filter((key) => es[key].trim() === '' || en[key].trim() === '' || (es[key] === en[key] && !isWordless(en[key]) && !ALIKE.includes(en[key])));
  expect(left).toEqual([]);
});

describe('one word for one thing', () => {
  const withWord = (words: Readonly<Record<string, string>>, word: RegExp): string[] => Object.keys(words).filter((key) => word.test(words[key as never]!));

  test('a phase is named alike wherever it is named', () => {
    const apart = (['layout', 'ready', 'pour', 'texture', 'next_days', 'record'] as const).flatMap((phase) => {
      const strip = `record.phase.${phase.replace('_', '-')}` as keyof typeof en;
      return [en, es].filter((words) => words[`shell.phase.${phase}`] !== words[strip]).map((words) => words[strip]);
    });
    expect(apart).toEqual([]);
  });

  test('the phase before the pour is not named as the surface check is', () => {
    for (const words of [en, es]) {
      const check = words['shell.kind.check.made'].split(' ')[0]!.toLowerCase();
      expect(words['shell.phase.ready'].toLowerCase()).not.toContain(check);
      expect(words['texture.checks'].toLowerCase()).toContain(words === en ? 'check' : 'revisi');
    }
  });

  test('Spanish keeps to one word where the trade has several', () => {
    expect(withWord(es, /\bcante|\btexturad|\btexturar\b|\bhondura\b|\bcobija|\bboleto/i)).toEqual([]);
    // `trabajo` is work; the place where it is done is `obra`
    expect(withWord(es, /\b(del|este|ese|un|los|cada|nuevo) trabajos?\b/i).filter((key) => key !== 'decide.reason.dark')).toEqual([]);
    expect(withWord(es, /\bencargad[oa]s?\b/i)).toEqual([]);
  });

  test('English is spelled as it is on the job', () => {
    expect(withWord(en, /colour|grey|neighbour|ravell|metre|can not|mould/i)).toEqual([]);
  });
});
