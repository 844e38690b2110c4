// Typed text that is not an event yet. It outlives a reload, an update and a phone call.
import { useState } from 'preact/hooks';

const prefix = 'slabtide.draft.';

/** A text state that is kept under `key` until `clear()`. */
export function useDraft(key: string, start = ''): [text: string, set: (text: string) => void, clear: () => void] {
  const [text, setText] = useState(() => read(key) ?? start);
  const set = (next: string): void => {
    setText(next);
    write(key, next);
  };
  const clear = (): void => {
    setText(start);
    write(key, '');
  };
  return [text, set, clear];
}

function read(key: string): string | null {
  try {
    return localStorage.getItem(prefix + key);
  } catch {
    return null; // no storage: the draft lives as long as the page
  }
}

function write(key: string, text: string): void {
  try {
    if (text === '') localStorage.removeItem(prefix + key);
    else localStorage.setItem(prefix + key, text);
  } catch {
    // no storage or full: the text stays on the screen
  }
}
