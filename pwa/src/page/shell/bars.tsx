// What comes up over any screen: a due reminder, an undo, a new version, trouble with saving.
import { signal } from '@preact/signals';
import { takeBack, undoOffer } from '../log/undo';
import { storageTrouble } from '../log/storage';
import { Bar, Button } from '../look';
import { t } from '../words';
import { ReminderBar } from './reminder-bar';
import { takeUpdate, updateReady } from './update';
import { sayError } from './trouble';

const failed = signal<string | null>(null);

function told(work: () => Promise<unknown>): void {
  work().then(
    () => { failed.value = null; },
    (error: unknown) => { failed.value = sayError(error); },
  );
}

/** The last thing done, and one touch to take it back. */
export function UndoBar() {
  const offered = undoOffer.value;
  return (
    <div class="shell-undo" role="status">
      {offered && (
        <>
          <span class="shell-undo-label">{offered.label}</span>
          <Button onPress={() => told(takeBack)} label={t('shell.undo.label', { what: offered.label })}>{t('shell.undo')}</Button>
        </>
      )}
    </div>
  );
}

/** The most urgent reminder; what can't be kept is said. */
export function ReminderBanner() {
  return <ReminderBar told={told} />;
}

export function UpdateBar() {
  if (!updateReady.value) return null;
  return (
    <Bar line={t('shell.update.title')} action={<Button onPress={takeUpdate}>{t('shell.update.take')}</Button>}>
      <p>{t('shell.update.words')}</p>
    </Bar>
  );
}

/** Open from the start: what is not read here may be lost. */
export function StorageBar() {
  const trouble = storageTrouble.value;
  const message = failed.value;
  if (!trouble && message === null) return null;
  const key = trouble ?? 'lost';
  return (
    <Bar
      key={key}
      tone="stop"
      opened
      announce
      line={<><span class="look-notice-word">{t('look.tone.stop')}</span> {t(`shell.storage.${key}.title`)}</>}
      action={<Button onPress={() => location.reload()}>{t('shell.reload')}</Button>}
    >
      <p>{t(`shell.storage.${key}.words`)}</p>
      {message !== null && <p class="soft">{message}</p>}
    </Bar>
  );
}
