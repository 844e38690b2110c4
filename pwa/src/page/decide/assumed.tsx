// What was taken for granted, in the person's language and units, by code and numbers.
import { formatLength } from '../../shared/units';
import { units } from '../shell/preferences';
import type { Assumed } from '../sync/contract';
import { isWordKey, language, t } from '../words';
import { sayDrop, sayStrength } from './amounts';

/** The assumption in words. One whose code this app does not know is said in English, or not at all. */
export function sayAssumed({ code, params, text }: Assumed): string | null {
  const key = `assumed.${code}`;
  if (!isWordKey(key)) return language.value === 'en' ? text : null;
  const number = (name: string): number => Number(params[name] ?? Number.NaN);
  const cover = `assumed.cover.${String(params['cover'])}`;
  return t(key, {
    ...params,
    warmer: sayDrop(number('warmer_k')),
    run: formatLength(number('run_m'), units.value),
    strength: sayStrength(number('strength_mpa')),
    cover: isWordKey(cover) ? t(cover) : '?',
  });
}

type Answer = { readonly assumptions: readonly string[]; readonly assumed?: readonly Assumed[] };

/** What an answer takes for granted. An older server tells it in English alone. */
export function sentencesOf({ assumptions, assumed }: Answer): readonly string[] {
  return assumed ? assumed.flatMap((one) => sayAssumed(one) ?? []) : assumptions;
}

export function TakenForGranted({ answer }: { readonly answer: Answer }) {
  const said = sentencesOf(answer);
  if (said.length === 0) return null;
  return <details class="soft assumed"><summary>{t('decide.assumed')}</summary><ul>{said.map((one) => <li key={one}>{one}</li>)}</ul></details>;
}
