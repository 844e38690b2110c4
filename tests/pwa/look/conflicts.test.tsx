// @vitest-environment happy-dom
// What a foreman reads where two slabs want their mats at one time.
import { render } from 'preact';
import { act } from 'preact/test-utils';
import { afterEach, expect, test } from 'vitest';
import { ConflictsPart } from '../../../pwa/src/page/now/conflicts';
import { language } from '../../../pwa/src/page/shell/preferences';
import type { Conflicts, ConflictTurn } from '../../../pwa/src/page/sync/contract';
import { at, iso } from './sample';

const turn = (name: string, what: ConflictTurn['what'], subject: string, late_min: number): ConflictTurn => ({
  job: name as ConflictTurn['job'], name, time_zone: 'America/Chicago', what, subject, from: iso(3), to: iso(4), done_by: iso(4), late_min,
});
const order = [turn('Oak', 'texture', 'load-2', 0), turn('Pine', 'texture', '', 25), turn('Elm', 'seal', 'coat-1', 0)];
const weights = { texture: 20, saw: 10, pour: 3, seal: 1, colour: 1, wash: 1 };
const conflicts: Conflicts = {
  found: [{ kind: 'crew', name: null, order, loss: 8, as_it_comes: [turn('Oak', 'texture', 'load-2', 50)], loss_as_it_comes: 17 }],
  unnamed: [],
  rests_on: { weights, between_jobs_min: 45, after_last_load_min: 240, set_up_saw_min: 30, saw_without_length_min: 60, coating_min: 120 },
};
const place = document.body.appendChild(document.createElement('div'));

afterEach(() => render(null, place));

test.each([
  ['en', ['Texture Oak, load 2', 'Texture Pine', 'Seal Elm'], 'Texture Oak, load 2, 50', 'counts 20 for texture, 10 for sawing'],
  ['es', ['Textura en Oak, carga 2', 'Textura en Pine', 'Sellar Elm'], 'Textura en Oak, carga 2, 50', 'cuenta 20 para la textura, 10 para el corte'],
] as const)('the mats are named with their load, lead to them, and weigh most (%s)', async (spoken, names, loses, why) => {
  language.value = spoken;
  await act(() => render(<ConflictsPart conflicts={conflicts} now={at(2)} />, place));
  const links = [...place.querySelectorAll('li a')];
  expect(links.map((link) => link.textContent)).toEqual(names);
  expect(links.map((link) => link.getAttribute('href'))).toEqual(['#/job/Oak/texture', '#/job/Pine/texture', '#/job/Elm/next-days']);
  expect(place.textContent?.replaceAll('\u00a0', ' ')).toContain(loses);
  expect(place.textContent).toContain(why);
});

test('two loads of one slab are one place to be in', async () => {
  language.value = 'en';
  const loads = [turn('Oak', 'texture', 'load-1', 0), turn('Oak', 'texture', 'load-2', 5), turn('Elm', 'saw', '', 25)];
  await act(() => render(<ConflictsPart conflicts={{ ...conflicts, found: [{ ...conflicts.found[0]!, order: loads }] }} now={at(2)} />, place));
  expect(place.textContent).toContain('in 2 places at once');
  expect(place.querySelectorAll('li')).toHaveLength(3);
});
