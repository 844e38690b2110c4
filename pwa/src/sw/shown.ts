// From a push message to a notification. Whatever comes, something is shown: silence costs the subscription on iOS.
import type { Language } from './words';
import { words } from './words';

export type Aim = { readonly navigate: string; readonly reminder: string | null; readonly job: string | null; readonly what?: string | null; readonly due?: string | null };
export type Shown = { readonly title: string; readonly options: NotificationOptions & { renotify?: boolean; silent?: boolean; actions?: { action: string; title: string }[] } };

const isObject = (value: unknown): value is Record<string, unknown> => typeof value === 'object' && value !== null;
const text = (value: unknown): string | null => (typeof value === 'string' && value !== '' ? value : null);

/** Reads the declarative form. Broken or empty data gives a plain notification that opens the app. */
export function shown(payload: string | null, language: Language): Shown {
  const notification = readNotification(payload);
  const title = text(notification?.['title']);
  if (!notification || !title) return generic(language);
  const data = isObject(notification['data']) ? notification['data'] : {};
  const aim: Aim = { navigate: local(text(notification['navigate'])), reminder: text(data['reminder']), job: text(data['job']), what: text(data['what']), due: text(data['due']) };
  const tag = text(notification['tag']);
  const lang = text(notification['lang']);
  return {
    title,
    options: {
      body: text(notification['body']) ?? '',
      icon: '/icons/icon-192.png',
      badge: '/icons/badge-96.png',
      data: aim,
      ...(tag ? { tag, renotify: true } : {}),
      ...(lang ? { lang } : {}),
      ...(aim.reminder && aim.job ? { actions: readActions(notification['actions'], language) } : {}),
    },
  };
}

const SAME_MS = 15 * 60_000;

/** The same without a sound where the person has been told: the phone raised it by itself and it still stands, or it is
 * of texturing and somebody looks at the app, whose own tone and line say it. It is shown all the same. */
export function quietly({ title, options }: Shown, standing: readonly unknown[], watched: boolean): Shown {
  const { due, what } = options.data as Aim;
  const said = standing.some((data) => {
    const before = isObject(data) ? text(data['due']) : null;
    return Boolean(before && due) && Math.abs(Date.parse(before ?? '') - Date.parse(due ?? '')) <= SAME_MS;
  });
  return said || (watched && what === 'texture') ? { title, options: { ...options, renotify: false, silent: true } } : { title, options };
}

function readNotification(payload: string | null): Record<string, unknown> | null {
  if (payload === null) return null;
  try {
    const message: unknown = JSON.parse(payload);
    return isObject(message) && isObject(message['notification']) ? message['notification'] : null;
  } catch {
    return null; // not JSON: the plain notification is shown instead
  }
}

function readActions(value: unknown, language: Language): { action: string; title: string }[] {
  const found = Array.isArray(value) ? value.find((entry: unknown) => isObject(entry) && entry['action'] === 'acknowledge') : null;
  const title = isObject(found) ? text(found['title']) : null;
  return [{ action: 'acknowledge', title: title ?? words[language].acknowledge }];
}

/** Only ever an address inside this app. */
export function local(navigate: string | null): string {
  const hash = navigate?.indexOf('#/') ?? -1;
  return navigate !== null && hash >= 0 ? navigate.slice(hash) : '#/';
}

function generic(language: Language): Shown {
  const { title, unread } = words[language];
  const aim: Aim = { navigate: '#/', reminder: null, job: null };
  return { title, options: { body: unread, icon: '/icons/icon-192.png', badge: '/icons/badge-96.png', tag: 'unread', data: aim } };
}
