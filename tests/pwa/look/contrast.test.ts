import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

const css = readFileSync(new URL('../../../pwa/src/page/look/tokens.css', import.meta.url), 'utf8');

function tokens(selector: string): Map<string, string> {
  const block = css.split(selector)[1]?.split('}')[0] ?? '';
  return new Map([...block.matchAll(/--([\w-]+):\s*(#[0-9a-f]{6});/g)].map((m) => [m[1] ?? '', m[2] ?? '']));
}

function luminance(hex: string): number {
  const channel = (at: number): number => {
    const value = parseInt(hex.slice(at, at + 2), 16) / 255;
    return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
  };
  return 0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5);
}

/** Contrast ratio, WCAG 2.2 (relative luminance definition). */
function contrast(one: string, two: string): number {
  const [low, high] = [luminance(one), luminance(two)].sort((a, b) => a - b) as [number, number];
  return (high + 0.05) / (low + 0.05);
}

const words = ['ink', 'ink-soft', 'accent', 'warn', 'stop', 'good'];
const onTone = [
  ['accent-ink', 'accent'],
  ['ink', 'warn-paper'], ['warn', 'warn-paper'],
  ['ink', 'stop-paper'], ['stop', 'stop-paper'],
  ['ink', 'good-paper'], ['good', 'good-paper'],
  ['paper', 'ink'],
] as const;

describe.each([['sun', ':root {'], ['night', '[data-theme=\'night\'] {']])('%s colours', (_name, selector) => {
  const colour = tokens(selector);
  const of = (name: string): string => {
    const value = colour.get(name);
    if (!value) throw new Error(`no colour --${name}`);
    return value;
  };

  it.each(words.flatMap((word) => ['ground', 'paper'].map((ground) => [word, ground] as const)))(
    '%s on %s can be read in sunlight: 7 to 1',
    (word, ground) => expect(contrast(of(word), of(ground))).toBeGreaterThanOrEqual(7),
  );

  it.each(onTone)('%s on %s can be read in sunlight: 7 to 1', (word, ground) => {
    expect(contrast(of(word), of(ground))).toBeGreaterThanOrEqual(7);
  });

  it('draws the edges of controls at 3 to 1 or more', () => {
    expect(Math.min(contrast(of('line'), of('ground')), contrast(of('line'), of('paper')))).toBeGreaterThanOrEqual(3);
  });
});

it('measures contrast as the standard does: black on white is 21', () => {
  expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 5);
});
