// The person's choices, put where the style sheets and the service worker find them.
import { effect, untracked } from '@preact/signals';
import { writeMeta } from '../../shared/store/meta';
import { storage } from '../log/storage';
import { call, CallFailed } from '../sync/call';
import { me } from '../sync/state';
import { hand, language, light, textSize, type Language } from './preferences';

/** Follows the preferences for as long as the page lives. */
export function followPreferences(): void {
  const dark = matchMedia('(prefers-color-scheme: dark)');
  const root = document.documentElement;
  const theme = (): void => {
    const night = light.value === 'night' || (light.value === 'auto' && dark.matches);
    root.dataset['theme'] = night ? 'night' : 'sun';
  };
  effect(theme);
  dark.addEventListener('change', theme);
  effect(() => { root.dataset['text'] = textSize.value; });
  effect(() => { root.dataset['hand'] = hand.value; });
  effect(() => { root.lang = language.value; });
}

/** Lets the worker and the server know the language reminders are to be in. After the log is open. */
export function tellLanguage(): void {
  effect(() => {
    const chosen = language.value;
    const joined = me.value !== null;
    untracked(() => tell(chosen, joined)).catch((error: unknown) => {
      if (!(error instanceof CallFailed)) throw error; // no signal: told again on the next open
    });
  });
}

async function tell(chosen: Language, joined: boolean): Promise<void> {
  await storage.run((db) => writeMeta(db, 'language', chosen));
  if (joined) await call('/api/me', { method: 'PUT', body: { language: chosen } });
}
