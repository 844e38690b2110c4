// Reminders while the app is closed: on, off, or why not.
import { useState } from 'preact/hooks';
import { Button } from '../../look';
import { askForPush, pushState, stopPush } from '../../push/subscription';
import { t } from '../../words';

const keys = {
  unknown: 'shell.push.unknown',
  unsupported: 'shell.push.unsupported',
  install: 'shell.push.install',
  ask: 'shell.push.ask',
  blocked: 'shell.push.blocked',
  on: 'shell.push.on',
  'not set up': 'shell.push.notSetUp',
  failed: 'shell.push.failed',
} as const;

export function Notifications() {
  const [busy, setBusy] = useState(false);
  const state = pushState.value;
  const press = (work: () => Promise<void>): void => {
    setBusy(true);
    work().catch((error: unknown) => console.error(error)).finally(() => setBusy(false));
  };
  return (
    <section class="stack">
      <h2>{t('shell.push.title')}</h2>
      <p role="status">{t(keys[state])}</p>
      <p class="soft">{t('shell.push.open')}</p>
      <div class="actions">
        {(state === 'ask' || state === 'failed') && <Button disabled={busy} onPress={() => press(askForPush)}>{t('shell.push.allow')}</Button>}
        {state === 'on' && <Button kind="quiet" disabled={busy} onPress={() => press(stopPush)}>{t('shell.push.stop')}</Button>}
      </div>
    </section>
  );
}
