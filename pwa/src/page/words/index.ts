// The words of the app in the language the person chose. Only that language is loaded at first; each is a file of its own.
import { effect, signal } from '@preact/signals';
import { language, type Language } from '../shell/preferences';
import type { en } from './en';

export type WordKey = keyof typeof en;
type Table = Readonly<Record<WordKey, string>>;

const tables = signal<Readonly<Partial<Record<Language, Table>>>>({});

/** Brings in a language. Rejects when its file can't be had, which an installed app always can. */
export async function loadWords(wanted: Language): Promise<void> {
  if (tables.peek()[wanted]) return;
  const table: Table = wanted === 'es' ? (await import('./es')).es : (await import('./en')).en;
  tables.value = { ...tables.peek(), [wanted]: table };
}

/** Follows the person's choice; until the words are there, the ones at hand stay. Returns how to stop. */
export function followLanguage(onMissing: (error: unknown) => void): () => void {
  return effect(() => void loadWords(language.value).catch(onMissing));
}

const words = (): Partial<Table> => tables.value[language.value] ?? tables.value.en ?? tables.value.es ?? {};

/** Whether there are words for a key that was put together. */
export const isWordKey = (key: string): key is WordKey => Object.hasOwn(words(), key);

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
  return fill(words()[key] ?? key, params);
}

/** Text that came in both languages from the server. */
export function inLanguage(both: { readonly en: string; readonly es: string }): string {
  return language.value === 'es' ? both.es : both.en;
}

export { language };
