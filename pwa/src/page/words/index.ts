// Every word the app shows, in both languages. A key that Spanish lacks does not compile.
import { language } from '../shell/preferences';
import { layout as enLayout } from './en/layout';
import { look as enLook } from './en/look';
import { nextDays as enNextDays } from './en/nextDays';
import { now as enNow } from './en/now';
import { office as enOffice } from './en/office';
import { pour as enPour } from './en/pour';
import { ready as enReady } from './en/ready';
import { record as enRecord } from './en/record';
import { shell as enShell } from './en/shell';
import { texture as enTexture } from './en/texture';
import { layout as esLayout } from './es/layout';
import { look as esLook } from './es/look';
import { nextDays as esNextDays } from './es/nextDays';
import { now as esNow } from './es/now';
import { office as esOffice } from './es/office';
import { pour as esPour } from './es/pour';
import { ready as esReady } from './es/ready';
import { record as esRecord } from './es/record';
import { shell as esShell } from './es/shell';
import { texture as esTexture } from './es/texture';

const en = {
  ...enShell, ...enLook, ...enNow, ...enOffice,
  ...enLayout, ...enReady, ...enPour, ...enTexture, ...enNextDays, ...enRecord,
};

export type WordKey = keyof typeof en;

const es: Record<WordKey, string> = {
  ...esShell, ...esLook, ...esNow, ...esOffice,
  ...esLayout, ...esReady, ...esPour, ...esTexture, ...esNextDays, ...esRecord,
};

/** Whether there are words for a key that was put together. */
export const isWordKey = (key: string): key is WordKey => Object.hasOwn(en, key);

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

/** The words for a key in the language the person chose. Reading it in a component follows a change of language. */
export function t(key: WordKey, params?: Params): string {
  return fill((language.value === 'es' ? es : en)[key], params);
}

/** Text that came in both languages from the server. */
export function inLanguage(both: { readonly en: string; readonly es: string }): string {
  return language.value === 'es' ? both.es : both.en;
}

export { language };
