// Signing out: says what is unsent, keeps a copy of it, and only then forgets.
import { useState } from 'preact/hooks';
import { unsent } from '../../log/journal';
import { photosWaiting } from '../../log/photos';
import { signOut } from '../../sync/session';
import { t } from '../../words';
import { Confirm } from '../confirm';
import { go } from '../route';
import { saveCopy } from '../save-file';

export function Leaving() {
  const [failed, setFailed] = useState<string | null>(null);
  const count = unsent.value.count + unsent.value.rejected.length + photosWaiting.value;
  const leave = async (): Promise<void> => {
    const copy = await signOut();
    if (copy) saveCopy(copy);
    go('#/join', 'replace');
  };
  return (
    <section class="stack">
      <h2>{t('shell.leave.title')}</h2>
      {failed !== null && <p role="alert">{failed}</p>}
      <Confirm
        ask={t('shell.leave.ask')}
        title={count > 0 ? t('shell.leave.unsent', { count }) : t('shell.leave.sure')}
        sure={t('shell.leave.ask')}
        onSure={() => leave().catch((error: unknown) => setFailed(String(error)))}
      >
        <p>{t(count > 0 ? 'shell.leave.unsentWords' : 'shell.leave.words')}</p>
      </Confirm>
    </section>
  );
}
