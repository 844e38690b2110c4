// Copies of unsent work that this phone kept when somebody signed out or was signed out.
import { useEffect, useState } from 'preact/hooks';
import { keptCopies, type UnsentCopy } from '../log/copy';
import { storage } from '../log/storage';
import { Button, Notice } from '../look';
import { t } from '../words';
import { Confirm } from './confirm';
import { saveCopy } from './save-file';

type Entry = { readonly id: number; readonly at: string; readonly copy: UnsentCopy };

export function KeptCopies() {
  const [entries, setEntries] = useState<readonly Entry[]>([]);
  const read = async (): Promise<void> => setEntries(await storage.run(keptCopies));
  useEffect(() => void read(), []);
  const drop = async (id: number): Promise<void> => {
    await storage.run((db) => db.delete('kept', id));
    await read();
  };
  if (entries.length === 0) return null;
  return (
    <section class="stack">
      <h2>{t('shell.kept.title')}</h2>
      {entries.map(({ id, at, copy }) => (
        <Notice key={id} title={t('shell.kept.one', { count: copy.count, day: at.slice(0, 10) })}>
          <div class="actions">
            <Button onPress={() => saveCopy(copy)}>{t('shell.unsent.copy')}</Button>
            <Confirm ask={t('shell.kept.drop')} title={t('shell.kept.sure')} sure={t('shell.kept.drop')} onSure={() => void drop(id)} />
          </div>
        </Notice>
      ))}
    </section>
  );
}
