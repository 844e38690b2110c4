// Reminders while the app is closed: the push subscription, asked for on a touch and told to the server on every open.
import { signal, type ReadonlySignal } from '@preact/signals';
import { CallFailed, call, callJson } from '../sync/call';

/** unsupported: this browser can't. install: iPhone and iPad can, once the app stands on the home screen. */
export type PushState = 'unknown' | 'unsupported' | 'install' | 'ask' | 'blocked' | 'on' | 'not set up' | 'failed';

const state = signal<PushState>('unknown');
export const pushState: ReadonlySignal<PushState> = state;

const supported = (): boolean => 'serviceWorker' in navigator && 'PushManager' in window && 'Notification' in window;

type AppleNavigator = Navigator & { readonly standalone?: boolean };

function needsInstall(): boolean {
  const apple = /iPhone|iPad/.test(navigator.userAgent) || (navigator.userAgent.includes('Macintosh') && navigator.maxTouchPoints > 1);
  return apple && (navigator as AppleNavigator).standalone !== true;
}

/** Looks how things stand and, when allowed, tells the server where this phone can be reached. Call on every open. */
export async function checkPush(): Promise<void> {
  if (!supported()) state.value = needsInstall() ? 'install' : 'unsupported';
  else if (Notification.permission === 'denied') state.value = 'blocked';
  else if (Notification.permission === 'default') state.value = 'ask';
  else await subscribe();
}

/** Asks the person. Only from a touch: browsers refuse it otherwise. */
export async function askForPush(): Promise<void> {
  if (!supported()) return checkPush();
  await Notification.requestPermission();
  await checkPush();
}

/** Stops reminders to this phone. */
export async function stopPush(): Promise<void> {
  const registration = await navigator.serviceWorker.ready;
  const subscription = await registration.pushManager.getSubscription();
  if (!subscription) return;
  await call('/api/push/subscription', { method: 'DELETE', body: { endpoint: subscription.endpoint } });
  await subscription.unsubscribe();
  state.value = 'ask';
}

async function subscribe(): Promise<void> {
  try {
    const registration = await navigator.serviceWorker.ready;
    const known = await registration.pushManager.getSubscription();
    const subscription = known ?? (await registration.pushManager.subscribe({ userVisibleOnly: true, applicationServerKey: await serverKey() }));
    const { endpoint, keys } = subscription.toJSON();
    await call('/api/push/subscription', { method: 'POST', body: { endpoint, keys } });
    state.value = 'on';
  } catch (error) {
    state.value = afterFailure(error);
  }
}

function afterFailure(error: unknown): PushState {
  if (error instanceof CallFailed) {
    if (error.trouble.code === 'push_not_set_up') return 'not set up';
    return error.status === 0 ? state.value : 'failed'; // no signal: the next open tries again
  }
  console.error(error);
  return 'failed';
}

async function serverKey(): Promise<Uint8Array<ArrayBuffer>> {
  const { key } = await callJson<{ key: string }>('/api/push/key');
  const text = atob(key.replaceAll('-', '+').replaceAll('_', '/'));
  return Uint8Array.from(text, (letter) => letter.charCodeAt(0));
}
