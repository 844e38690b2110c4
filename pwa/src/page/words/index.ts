// The words of the app in the language the person chose. The first screens' words come first, the rooms' after them.
import { effect, signal } from '@preact/signals';
import { language, type Language } from '../shell/preferences';
import type { en } from './en';
import { withArticle } from './spoken-time';

export type WordKey = keyof typeof en;
type Table = Readonly<Record<WordKey, string>>;
type Tables = Readonly<Partial<Record<Language, Partial<Table>>>>;

const tables = signal<Tables>({});
const whole = new Set<Language>();

/** Brings in what the first screens say. Rejects when its file can't be had, which an installed app always can. */
export async function loadFirstWords(wanted: Language): Promise<void> {
  if (tables.peek()[wanted]) return;
  add(wanted, wanted === 'es' ? (await import('./es/first')).first : (await import('./en/first')).first);
}

/** Brings in everything a language says. */
export async function loadWords(wanted: Language): Promise<void> {
  if (whole.has(wanted)) return;
  add(wanted, wanted === 'es' ? (await import('./es')).es : (await import('./en')).en);
  whole.add(wanted);
}

function add(to: Language, words: Partial<Table>): void {
  tables.value = { ...tables.peek(), [to]: { ...tables.peek()[to], ...words } };
}

/** Follows the person's choice; until the words are there, the ones at hand stay. Returns how to stop. */
export function followLanguage(onMissing: (error: unknown) => void): () => void {
  let first = true;
  return effect(() => {
    const wanted = language.value;
    if (!first) loadWords(wanted).catch(onMissing);
    first = false;
  });
}

const inOrder = (): Partial<Table>[] => [language.value, 'en' as const, 'es' as const].flatMap((one) => tables.value[one] ?? []);
const find = (key: string): string | undefined => inOrder().find((table) => Object.hasOwn(table, key))?.[key as WordKey];

/** Whether there are words for a key that was put together. */
export const isWordKey = (key: string): key is WordKey => find(key) !== undefined;

export type Params = Readonly<Record<string, string | number>>;

const slot = /\{(\w+)(?:\|([^|{}]*)\|([^|{}]*))?\}/g;

/** Fills `{name}`; `{count|record|records}` picks the first word when count is 1, the second otherwise. */
export function fill(text: string, params: Params = {}): string {
  return text.replace(slot, (whole, name: string, one?: string, many?: string) => {
    const value = params[name];
    if (value === undefined) return whole;
    if (one === undefined || many === undefined) return String(value);
    return Number(value) === 1 ? one : many;
  });
}

/** The words for a key. Reading it in a component follows a change of language. */
export function t(key: WordKey, params?: Params): string {
  const said = fill(find(key) ?? key, params);
  return language.value === 'es' ? withArticle(said) : said;
}

/** Text that came in both languages from the server. */
export function inLanguage(both: { readonly en: string; readonly es: string }): string {
  return language.value === 'es' ? withArticle(both.es) : both.en;
}

export { language };
