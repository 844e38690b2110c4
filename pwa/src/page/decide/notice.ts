// What the engine warns of, in the person's language and units, by code and numbers.
import { formatTemp } from '../../shared/units';
import { sayMoment } from '../look';
import { units } from '../shell/preferences';
import type { Warning } from '../sync/contract';
import { isWordKey, language, t } from '../words';
import { sayDrop, sayLoss, sayRain } from './amounts';
import { sayOdds } from './odds';

/** Said loud: concrete that lies there is in danger. */
const LOUD: readonly string[] = ['rain_on_placed', 'frost_on_placed', 'drying_on_placed'];
/** About what is known, not about the slab. */
const QUIET: readonly string[] = ['weather_ends', 'no_sun_given'];

export const toneOf = ({ code }: Pick<Warning, 'code'>): 'stop' | 'warn' | 'plain' => (LOUD.includes(code) ? 'stop' : QUIET.includes(code) ? 'plain' : 'warn');

/** The notice in words. Times worked out before notices had numbers are said in the engine's English, or not at all. */
export function sayNotice(warning: Warning, now: Date, timeZone: string): string | null {
  const { params } = warning;
  const wanted = params?.['case'];
  const key = `notices.${warning.code}${typeof wanted === 'string' ? `.${wanted}` : ''}`;
  if (!params || !isWordKey(key)) return language.value === 'en' ? warning.text : null;
  const said = t(key, wordsFor(params, sayMoment(new Date(warning.from), now, timeZone)));
  const saw = warning.code === 'no_safe_window' && listOf(params['work']).includes('saw');
  return saw ? `${said} ${t('notices.sawElse')}` : said;
}

type Values = NonNullable<Warning['params']>;

function wordsFor(params: Values, at: string): Readonly<Record<string, string>> {
  const number = (name: string): number => Number(params[name] ?? Number.NaN);
  const temp = (name: string): string => formatTemp(number(name), units.value);
  return {
    at,
    rain: sayRain(number('rain_mm')),
    loss: sayLoss(number('evaporation_kg_m2_h')),
    drop: sayDrop(number('drop_k')),
    odds: sayOdds(number('chance')),
    ground: temp('ground_temp_c'),
    limit: temp('limit_c'),
    coldestAir: temp('coldest_air_c'),
    felt: temp('heat_index_c'),
    concrete: temp('concrete_temp_c'),
    peak: temp('peak_c'),
    coldest: temp('coldest_c'),
    work: listOf(params['work']).map((name) => named(`notices.work.${name}`)).join(', '),
    kind: named(`texture.kind.${String(params['kind'])}`),
  };
}

const listOf = (value: Values[string] | undefined): readonly string[] => (Array.isArray(value) ? (value as readonly string[]) : []);
const named = (key: string): string => (isWordKey(key) ? t(key) : '?');
