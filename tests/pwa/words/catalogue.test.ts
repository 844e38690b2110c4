// Everything a person reads comes from the words room: a sentence written into a screen is heard in one language only.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseSync } from 'vite';
import { expect, test } from 'vitest';
import { en } from '../../../pwa/src/page/words/en';
import { first } from '../../../pwa/src/page/words/en/first';

const page = join(import.meta.dirname, '../../../pwa/src/page');

/** Two words of letters beside each other, or any letters between tags. */
const SENTENCE = /\p{L}{2,}[,.:;]? \p{L}{2,}/u;
const LETTERS = /\p{L}{2,}/u;
/** A language is named in itself, wherever it is offered. The product has one name. */
const SAME_EVERYWHERE = ['English', 'Español', 'Slabtide'];
/** Attributes that are read out or shown. */
const SPOKEN = ['title', 'label', 'hint', 'alt', 'placeholder', 'aria-label', 'aria-description', 'unit', 'ask', 'sure', 'refusal', 'error'];
/** States and faults: names the code goes by. A fault's words come from its name. */
const NAMES = ['not set up', 'at risk', 'not joined'];
/** Questions to the browser, marks of a picture, kinds of file, and the unit whose sign is the same in both languages. */
const isCode = (text: string): boolean => /^([(<]|[a-z]+\/[a-z]+;)|\[[a-z]+\]$/.test(text) || text === 'min';
const UNSEEN_ATTRIBUTES = ['class', 'style', 'd', 'points', 'transform', 'viewBox'];

type Node = { readonly type: string; readonly [key: string]: unknown };
type Found = { readonly file: string; readonly text: string };

const isNode = (value: unknown): value is Node => typeof value === 'object' && value !== null && typeof (value as Node).type === 'string';
const named = (value: unknown): string => (isNode(value) ? String(value['name'] ?? (isNode(value['property']) ? value['property']['name'] : '')) : '');

/** Whether what stands below is never shown: a fault thrown, a warning for the browser's console, a shape. */
function isUnseen(node: Node): boolean {
  if (node.type === 'JSXAttribute') return UNSEEN_ATTRIBUTES.includes(named(node['name']));
  if (node.type === 'ThrowStatement' || node.type.startsWith('TS') || node.type.startsWith('Import')) return true;
  if (node.type === 'NewExpression') return /(Error|Failed|NotKept)$/.test(named(node['callee']));
  if (node.type === 'CallExpression' && isNode(node['callee'])) return node['callee'].type === 'Super' || ['warn', 'error', 'info'].includes(named(node['callee']));
  return false;
}

function spoken(node: Node, attribute: string | null): string | null {
  if (node.type === 'JSXText') return LETTERS.test(String(node['value'])) ? String(node['value']).trim() : null;
  const text = node.type === 'Literal' ? node['value'] : node.type === 'TemplateElement' ? (node['value'] as { cooked: string }).cooked : null;
  if (typeof text !== 'string') return null;
  const shown = attribute !== null && SPOKEN.includes(attribute) && node.type === 'Literal';
  return SENTENCE.test(text) || (shown && LETTERS.test(text)) ? text : null;
}

/** Every text of a file that a person could read and that no catalogue holds. */
function outside(file: string, source: string): Found[] {
  const found: Found[] = [];
  const walk = (value: unknown, attribute: string | null, inCall: boolean): void => {
    if (Array.isArray(value)) return value.forEach((one) => walk(one, attribute, inCall));
    if (!isNode(value) || isUnseen(value)) return;
    const text = spoken(value, inCall ? null : attribute);
    if (text !== null && ![...SAME_EVERYWHERE, ...NAMES].includes(text) && !isCode(text)) found.push({ file, text });
    const own = value.type === 'JSXAttribute' ? named(value['name']) : attribute;
    for (const [key, child] of Object.entries(value)) if (key !== 'parent') walk(child, own, inCall || value.type === 'JSXExpressionContainer');
  };
  walk(parseSync(file, source).program, null, false);
  return found;
}

const screens = readdirSync(page, { recursive: true, encoding: 'utf8' }).filter((file) => /\.tsx?$/.test(file) && !/^words[\\/]/.test(file));

test('no screen says a thing that is not in the words of both languages', () => {
  const found = screens.flatMap((file) => outside(file, readFileSync(join(page, file), 'utf8')));
  expect(found).toEqual([]);
});

test.each([
  ['text between tags', 'export const A = () => <p>Hello there</p>'],
  ['one word between tags', 'export const A = () => <p>Hello</p>'],
  ['a label', 'export const A = () => <button aria-label="Close">×</button>'],
  ['a sentence in the code', 'export const say = (n: number) => n > 1 ? "Too many loads" : ""'],
  ['a sentence with a number in it', 'export const say = (n: number) => `Only ${n} loads left here`'],
])('the search sees %s', (_what, source) => {
  expect(outside('a.tsx', source)).toHaveLength(1);
});

/** Rooms of the first load. The reminder bar waits for the words of the next days; later screens draw the saw's table; the settings and what is said of jobs that are not here come with all words. */
const FIRST_ROOMS = /^(main|shell(?!\/settings|\/far)|now|look|log|sync|push|engine|phases\/signal)\b/;
const WAITING = ['shell/reminder-bar.tsx', 'now/saw-beside.tsx'];
const LATER = Object.keys(en).filter((key) => !Object.hasOwn(first, key));

test('a screen of the first load says nothing that comes later', () => {
  const early = screens.filter((file) => FIRST_ROOMS.test(file) && !WAITING.includes(file) && !/^shell\/(settings|far)\//.test(file));
  const asked = early.flatMap((file) => {
    const source = readFileSync(join(page, file), 'utf8');
    return LATER.filter((key) => source.includes(`'${key}'`)).map((key) => `${file}: ${key}`);
  });
  expect(asked).toEqual([]);
});
