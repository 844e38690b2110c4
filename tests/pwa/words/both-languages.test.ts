// The two catalogues say the same things: a slot that one fills and the other forgets is a number nobody sees.
import { expect, test } from 'vitest';
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
