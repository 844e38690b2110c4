// @vitest-environment happy-dom
// A crew works where the slab is; a phone from another zone, or an office's, is told whose times it reads.
import { render } from 'preact';
import { act } from 'preact/test-utils';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { ZoneNote, zoneAhead_min } from '../../../pwa/src/page/now/zone-note';
import { language } from '../../../pwa/src/page/shell/preferences';
import { at, job } from './sample';

const phone = vi.hoisted(() => ({ now: { value: new Date(0) } }));
vi.mock('../../../pwa/src/page/shell/now', () => phone);

const said = (zone: string): string => {
  const there = job('Oak Lane');
  void act(() => render(<ZoneNote job={{ ...there, opened: { ...there.opened!, time_zone: zone } }} />, document.body));
  return document.body.textContent?.replaceAll('\u00a0', ' ') ?? '';
};

beforeEach(() => {
  // The phone lies in Los Angeles in summer.
  vi.spyOn(Date.prototype, 'getTimezoneOffset').mockReturnValue(420);
  phone.now.value = at(0);
});
afterEach(() => {
  render(null, document.body);
  language.value = 'en';
  vi.restoreAllMocks();
});

it('counts how far a zone’s clocks are ahead, over midnight and half hours', () => {
  expect(zoneAhead_min('America/Chicago', at(0))).toBe(120);
  expect(zoneAhead_min('Pacific/Honolulu', at(0))).toBe(-180);
  expect(zoneAhead_min('Asia/Kolkata', at(12.5))).toBe(750);
  expect(zoneAhead_min('America/Vancouver', at(0))).toBe(0);
});

it('says whose times these are where the phone’s differ, in either language, and nothing where they do not', () => {
  expect(said('America/New_York')).toBe('Times are the slab’s (New York): 3 h ahead of this phone.');
  expect(said('Pacific/Honolulu')).toBe('Times are the slab’s (Honolulu): 3 h behind this phone.');
  expect(said('America/Los_Angeles')).toBe('');
  language.value = 'es';
  expect(said('America/New_York')).toBe('Las horas son las de la losa (New York): 3 h más que en este teléfono.');
});
