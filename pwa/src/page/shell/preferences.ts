// What a person chose on this phone. Kept in localStorage, so that the first frame is already right.
import { effect, signal, type Signal } from '@preact/signals';
import type { UnitSystem } from '../../shared/units';

export type { UnitSystem };

export type Language = 'en' | 'es';
export type TextSize = 'normal' | 'large' | 'huge';
export type Hand = 'right' | 'left';
export type Light = 'auto' | 'sun' | 'night';

const prefix = 'slabtide.';

function stored(key: string): string | null {
  try {
    return localStorage.getItem(prefix + key);
  } catch {
    return null; // storage switched off: the choice lasts as long as the page
  }
}

function keep(key: string, value: string): void {
  try {
    localStorage.setItem(prefix + key, value);
  } catch {
    // as above: nothing to do, the signal holds the choice for now
  }
}

function chosen<T extends string>(key: string, options: readonly T[], otherwise: T): Signal<T> {
  const found = stored(key);
  const choice = signal<T>(options.find((option) => option === found) ?? otherwise);
  let first = true;
  effect(() => {
    const value = choice.value;
    if (!first) keep(key, value);
    first = false;
  });
  return choice;
}

function spoken(): Language {
  return typeof navigator !== 'undefined' && navigator.language?.toLowerCase().startsWith('es') ? 'es' : 'en';
}

export const language = chosen<Language>('language', ['en', 'es'], spoken());
export const units = chosen<UnitSystem>('units', ['us', 'metric'], 'us');
export const textSize = chosen<TextSize>('textSize', ['normal', 'large', 'huge'], 'normal');
export const hand = chosen<Hand>('hand', ['right', 'left'], 'right');
export const light = chosen<Light>('light', ['auto', 'sun', 'night'], 'auto');
/** Tone and buzz for the clocks of the bays. */
export const tones = chosen<'on' | 'off'>('tones', ['on', 'off'], 'on');
/** The screen stays on while a pour is open. */
export const awakeChoice = chosen<'on' | 'off'>('awake', ['on', 'off'], 'on');
