import { afterEach, beforeEach, expect, it } from 'vitest';
import { inLanguage, t } from '../../../pwa/src/page/words';
import { withArticle } from '../../../pwa/src/page/words/spoken-time';
import { language } from '../../../pwa/src/page/shell/preferences';

beforeEach(() => {
  language.value = 'es';
});
afterEach(() => {
  language.value = 'en';
});

it('says one o’clock in the singular, and no other hour', () => {
  expect(t('pour.next.empty', { number: 1, by: '1:20 pm', left: '5 min' })).toBe('Carga 1: olla vacía a la 1:20 pm, quedan 5 min');
  expect(t('pour.next.empty', { number: 1, by: '11:20 am', left: '5 min' })).toContain('a las 11:20 am');
  expect(inLanguage({ en: 'Saw by 1:20 am.', es: 'Corte antes de las 1:20 am.' })).toBe('Corte antes de la 1:20 am.');
});

it('puts the article of the day before a time of another day', () => {
  expect(t('now.step.ready', { time: 'mar 10:41\u00a0pm' })).toBe('Listos antes del mar 10:41\u00a0pm.');
  expect(t('now.step.planned', { time: 'sáb 1:05\u00a0am' })).toBe('Moldes como el sáb 1:05\u00a0am.');
  expect(withArticle('hacia las mié 9:00 am; desde las 14 jul 9:00 am')).toBe('hacia el mié 9:00 am; desde el 14 jul 9:00 am');
});

it('leaves other words alone, and English as it is', () => {
  for (const text of ['Las horas son las de la losa', 'Mostrar las 12', 'todas las marcas 3']) expect(withArticle(text)).toBe(text);
  language.value = 'en';
  expect(t('now.step.ready', { time: 'Tue 10:41 pm' })).toBe('Be ready by Tue 10:41 pm.');
});
