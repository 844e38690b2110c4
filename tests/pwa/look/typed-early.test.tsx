// @vitest-environment happy-dom
import { render } from 'preact';
import { expect, test, vi } from 'vitest';
import { NumberField, TextField } from '../../../pwa/src/page/look';

/** Draws, types before any later effect has run, and leaves the field when all is quiet. */
async function typedAtOnce(field: preact.ComponentChild, words: string): Promise<void> {
  document.body.innerHTML = '<div id="root"></div>';
  render(field, document.getElementById('root') as HTMLElement);
  const input = document.querySelector('input') as HTMLInputElement;
  input.value = words;
  input.dispatchEvent(new Event('input', { bubbles: true }));
  await new Promise<void>((done) => { setTimeout(done, 100); });
  input.dispatchEvent(new Event('blur'));
}

test('text typed the moment a field is drawn is kept', async () => {
  const kept = vi.fn();
  await typedAtOnce(<TextField label="Name" value="" onCommit={kept} />, 'North patio');
  expect(kept).toHaveBeenCalledWith('North patio');
});

test('a number typed the moment a field is drawn is kept', async () => {
  const kept = vi.fn();
  await typedAtOnce(<NumberField label="Width" value={null} onCommit={kept} />, '30');
  expect(kept).toHaveBeenCalledWith(30);
});
