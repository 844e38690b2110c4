// @vitest-environment happy-dom
import { render, type ComponentChild } from 'preact';
import { act } from 'preact/test-utils';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Choice, Notice, NumberField, Tick, TideStrip } from '../../../pwa/src/page/look';
import { language } from '../../../pwa/src/page/shell/preferences';
import { at, iso, when } from './sample';

const place = (): HTMLElement => document.body;
const draw = (node: ComponentChild): void => {
  void act(() => render(node, place()));
};
const find = <T extends Element>(selector: string): T => {
  const found = place().querySelector<T>(selector);
  if (!found) throw new Error(`nothing matches ${selector}`);
  return found;
};
const press = (selector: string): void => {
  void act(() => find<HTMLElement>(selector).click());
};

beforeEach(() => {
  language.value = 'en';
});
afterEach(() => {
  vi.restoreAllMocks();
  render(null, place());
});

describe('a tick', () => {
  const row = (done: boolean, onTick: () => void, onUndo: () => void) => (
    <Tick label="Base damp" done={done} by="Ana" at="8:10 am" onTick={onTick} onUndo={onUndo} />
  );

  it('takes one touch, and takes a second one at once for the same wet glove', () => {
    const clock = vi.spyOn(performance, 'now').mockReturnValue(1_000);
    const [onTick, onUndo] = [vi.fn(), vi.fn()];
    draw(row(false, onTick, onUndo));
    press('[role=checkbox]');
    draw(row(true, onTick, onUndo));
    clock.mockReturnValue(1_500);
    press('[role=checkbox]');
    expect([onTick.mock.calls.length, onUndo.mock.calls.length]).toEqual([1, 0]);
    clock.mockReturnValue(1_700);
    press('[role=checkbox]');
    expect(onUndo).toHaveBeenCalledOnce();
  });

  it('says who ticked it and when, and that a touch takes it back', () => {
    draw(row(true, vi.fn(), vi.fn()));
    expect(find('[role=checkbox]').getAttribute('aria-checked')).toBe('true');
    expect(find('[role=checkbox]').textContent).toBe('Base dampAna, 8:10 amUndo');
  });
});

describe('a number field', () => {
  const type = (text: string): void => {
    const input = find<HTMLInputElement>('input');
    void act(() => {
      input.value = text;
      input.dispatchEvent(new Event('input', { bubbles: true }));
    });
    void act(() => {
      input.dispatchEvent(new Event('blur'));
    });
  };

  it('hands on a number inside its limits once the person leaves it', () => {
    const onCommit = vi.fn();
    draw(<NumberField label="Concrete" value={null} unit="°C" min={2} max={45} onCommit={onCommit} />);
    type('24,5');
    expect(onCommit.mock.calls).toEqual([[24.5]]);
  });

  it('keeps what was typed outside its limits and says the limits', () => {
    const onCommit = vi.fn();
    draw(<NumberField label="Concrete" value={24} min={2} max={45} onCommit={onCommit} />);
    type('60');
    expect(onCommit).not.toHaveBeenCalled();
    expect(find<HTMLInputElement>('input').value).toBe('60');
    expect(find('.look-field-error').textContent).toBe('Enter 2 to 45.');
  });

  it('has step buttons that say what they step', () => {
    const onCommit = vi.fn();
    draw(<NumberField label="Slump" value={100} step={10} min={0} max={300} onCommit={onCommit} />);
    press('button[aria-label="More: Slump"]');
    expect(onCommit.mock.calls).toEqual([[110]]);
  });
});

it('a choice hands on the option that was picked', () => {
  const onPick = vi.fn();
  const options = [{ value: 'a', label: 'One' }, { value: 'b', label: 'Two' }] as const;
  draw(<Choice label="Saw" options={options} value="a" onPick={onPick} />);
  press('label:nth-of-type(2) input');
  expect(onPick.mock.calls).toEqual([['b']]);
});

it('a notice says its tone in a word, not by colour alone', () => {
  draw(<Notice tone="stop" title="No mix" />);
  expect(find('.look-notice-title').textContent).toBe('Stop No mix');
});

describe('a tide strip', () => {
  const row = {
    id: 'a', label: 'Load 1, texture', window: { opens: when(2, 3, 4), closes: when(6, 7, 8) },
    curve: [{ at: iso(0), level: 0 }, { at: iso(10), level: 1 }],
  };
  const strip = (hours: number, none = false) => (
    <TideStrip rows={[none ? { ...row, window: null } : row]} from={at(0)} to={at(10)} now={at(hours)} timeZone="America/Chicago" />
  );
  const plain = (text: string | null) => (text ?? '').replaceAll('\u00a0', ' ');

  it('is an image with a full text, and a table with the same times', () => {
    draw(strip(4.5));
    expect(plain(find('svg[role=img]').getAttribute('aria-label'))).toBe(
      'Load 1, texture: ready. 1 h 30 min left, to 1:00 pm. Opens about 10:00 am (eight chances in ten: 9:00 am to 11:00 am). Closes about 2:00 pm (1:00 pm to 3:00 pm).',
    );
    expect(plain(find('tbody tr').textContent)).toBe('Load 1, textureready10:00 am (9:00 am to 11:00 am)2:00 pm (1:00 pm to 3:00 pm)');
  });

  it('shows the state in a word beside the strip', () => {
    draw(strip(1));
    expect(plain(find('.tide-words').textContent)).toBe('Load 1, texture too softReady about 10:00 am, in 2 h');
  });

  it('never says that nothing is left while something is', () => {
    draw(strip(5.995));
    expect(plain(find('.tide-time').textContent)).toBe('under 1 min left, to 1:00 pm');
  });

  it('says so when there is no window', () => {
    draw(strip(1, true));
    expect(plain(find('.tide-words').textContent)).toContain('no window found');
  });
});
