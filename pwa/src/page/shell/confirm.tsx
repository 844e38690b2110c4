import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { Button, Notice } from '../look';
import { t } from '../words';

type ConfirmProps = { readonly ask: string; readonly title: string; readonly sure: string; readonly onSure: () => void; readonly children?: ComponentChildren };

/** A button that asks once more before it does what can't be taken back. */
export function Confirm({ ask, title, sure, onSure, children }: ConfirmProps) {
  const [asking, setAsking] = useState(false);
  if (!asking) return <Button kind="danger" expanded={false} onPress={() => setAsking(true)}>{ask}</Button>;
  const go = (): void => {
    setAsking(false);
    onSure();
  };
  return (
    <Notice tone="warn" title={title} announce>
      {children}
      <div class="actions">
        <Button kind="danger" onPress={go}>{sure}</Button>
        <Button onPress={() => setAsking(false)}>{t('shell.cancel')}</Button>
      </div>
    </Notice>
  );
}
