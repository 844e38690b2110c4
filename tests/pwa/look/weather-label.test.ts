// The server names the weather in English (server/slabtide/weather/assemble.py, tmy3.py, sources/chain.py); a person reads it in their own language.
import { afterEach, expect, it } from 'vitest';
import { sayWeatherLabel } from '../../../pwa/src/page/now/weather-label';
import { language } from '../../../pwa/src/page/shell/preferences';

afterEach(() => {
  language.value = 'en';
});

const labels = [
  ['Entered by hand for Jul 14', 'Anotado a mano para 14 jul'],
  ['Entered by hand for Nov 29 to Dec 5; Station A', 'Anotado a mano, 29 nov a 5 dic; Station A'],
  ['Station A, typical year (TMY3)', 'Station A, año típico (TMY3)'],
  ['Grid forecast, last known', 'Grid forecast, lo último conocido'],
  ['Grid forecast', 'Grid forecast'],
] as const;

it.each(labels)('%s', (english, spanish) => {
  expect(sayWeatherLabel(english)).toBe(english);
  language.value = 'es';
  expect(sayWeatherLabel(english)).toBe(spanish);
});
