// @vitest-environment happy-dom
import { render } from 'preact';
import { act } from 'preact/test-utils';
import { expect, test, vi } from 'vitest';
import { NumberField, TextField } from '../../../pwa/src/page/look';

const later = () => act(() => new Promise<void>((done) => { setTimeout(done, 5); }));
const text = () => document.body.textContent ?? '';

async function shown(field: preact.ComponentChild): Promise<HTMLInputElement> {
  document.body.innerHTML = '<div id="root"></div>';
  await act(() => render(field, document.getElementById('root') as HTMLElement));
  return document.querySelector('input') as HTMLInputElement;
}

async function type(input: HTMLInputElement, words: string): Promise<void> {
  await act(() => {
    input.value = words;
    input.dispatchEvent(new Event('input', { bubbles: true }));
  });
}

test('a number’s error waits until the finger is up, and goes while the number is being put right', async () => {
  const input = await shown(<NumberField label="Depth" value={4} max={10} min={0} onCommit={() => undefined} />);
  await type(input, '44');
  dispatchEvent(new Event('pointerdown'));
  await act(() => void input.dispatchEvent(new Event('blur')));
  expect(text()).not.toContain('Enter 0 to 10.');
  dispatchEvent(new Event('pointerup'));
  await later();
  expect(text()).toContain('Enter 0 to 10.');
  await type(input, '4');
  expect(text()).not.toContain('Enter 0 to 10.');
});

test('a number that was only looked at is not written again, also where it is shown rounded', async () => {
  const kept = vi.fn();
  const input = await shown(<NumberField label="Depth" value={4.5276} decimals={1} onCommit={kept} />);
  await act(() => void input.dispatchEvent(new Event('blur')));
  expect(input.value).toBe('4.5');
  expect(kept).not.toHaveBeenCalled();
});

test('a text’s error goes while it is being put right and is back when the field is left as it was', async () => {
  const input = await shown(<TextField label="Name" value="" error="Give it a name." onCommit={() => undefined} />);
  await type(input, 'a');
  expect(text()).not.toContain('Give it a name.');
  await type(input, '');
  await act(() => void input.dispatchEvent(new Event('blur')));
  await later();
  expect(text()).toContain('Give it a name.');
});
