// @vitest-environment happy-dom
import { render } from 'preact';
import { afterEach, describe, expect, test, vi } from 'vitest';
import { WorkedOut } from '../../../pwa/src/page/engine/age';
import { EngineLine, EngineNews } from '../../../pwa/src/page/engine/line';
import { engineState, goOn, type EngineState } from '../../../pwa/src/page/engine/state';
import { language } from '../../../pwa/src/page/shell/preferences';
import { at, iso, jobOutlook, loadTimeline } from '../look/sample';

function drawn(what: 'line' | 'news', state: EngineState): HTMLElement {
  engineState.value = state;
  const place = document.createElement('div');
  render(what === 'line' ? <EngineLine /> : <EngineNews />, place);
  return place;
}

afterEach(() => {
  language.value = 'en';
  goOn.value = null;
});

describe('how the engine stands, in words', () => {
  test('how much is here is told in megabytes, with a bar', () => {
    const place = drawn('news', { at: 'getting', have: 4_100_000, all: 13_980_600 });
    expect(place.textContent).toBe('Getting offline times ready: 4 of 14 MB');
    expect(place.querySelector('progress')?.value).toBe(4_100_000);
    expect(place.querySelector('[role=status]')).not.toBeNull();
  });

  test('working screens are silent while all is well, settings never are', () => {
    const well: EngineState[] = [{ at: 'off' }, { at: 'starting' }, { at: 'ready' }];
    expect(well.map((state) => drawn('news', state).textContent)).toEqual(['', '', '']);
    expect(well.map((state) => (drawn('line', state).textContent ?? '').length > 10)).toEqual([true, true, true]);
  });

  test.each(['wasm', 'storage', 'start'] as const)('unable because of %s says that the last times stay', (why) => {
    const words = drawn('news', { at: 'unable', why }).textContent;
    expect(words).toContain('the last synced times stay');
  });

  test.each([['asks', 'Get it now'], ['waits', 'Try again']] as const)('%s offers a way on', (at, label) => {
    const press = vi.fn();
    goOn.value = press;
    const button = drawn('line', { at, have: 0, all: 14_000_000 }).querySelector('button');
    expect(button?.textContent).toBe(label);
    button?.click();
    expect(press).toHaveBeenCalledOnce();
  });

  test('it speaks Spanish too', () => {
    language.value = 'es';
    expect(drawn('news', { at: 'getting', have: 4_000_000, all: 14_000_000 }).textContent).toContain('4 de 14 MB');
  });
});

describe('under any times', () => {
  const said = (minutes: number, worked_here: boolean): string | null => {
    const place = document.createElement('div');
    const look = jobOutlook([loadTimeline('a')], { computed_at: iso(3), worked_here });
    render(<WorkedOut look={look} now={new Date(at(3).getTime() + minutes * 60_000)} />, place);
    return place.textContent;
  };

  test('stands who worked them out, and their age', () => {
    expect([said(0, true), said(12, true), said(12, false)]).toEqual([
      'Worked out on this phone, just now.', 'Worked out on this phone, 12 min ago.', 'Worked out by the server, 12 min ago.',
    ].map((words) => expect.stringMatching(words.replace(' min', '\\smin'))));
  });
});
