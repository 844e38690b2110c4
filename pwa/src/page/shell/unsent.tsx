// What the server does not have yet, and what it would not take: nothing leaves this list by itself.
import { useState } from 'preact/hooks';
import type { EventId } from '../../shared/events';
import { book, discardRejected, exportUnsent, unsent, type Rejected } from '../log/journal';
import { photosWaiting } from '../log/photos';
import { Button, Empty, LinkButton, Notice, Screen } from '../look';
import { syncNow, syncState } from '../sync/sync';
import { t } from '../words';
import { Confirm } from './confirm';
import { eventWords } from './event-words';
import { sayAge } from './frame';
import { now } from './now';
import { saveCopy } from './save-file';
import { isShutOut, sayError, sayTrouble } from './trouble';

export function UnsentScreen() {
  const { count, oldestAt, rejected } = unsent.value;
  const { phase, trouble } = syncState.value;
  const oldest = oldestAt === null ? '' : sayAge((now.value.getTime() - Date.parse(oldestAt)) / 60_000);
  return (
    <Screen title={t('shell.unsent.title')}>
      {count + rejected.length + photosWaiting.value === 0 && <Empty title={t('shell.unsent.none')}><p>{t('shell.unsent.noneWords')}</p></Empty>}
      {count > 0 && <p>{t('shell.unsent.count', { count, oldest })}</p>}
      {photosWaiting.value > 0 && <p>{t('shell.unsent.photos', { count: photosWaiting.value })}</p>}
      {trouble && <Notice tone="warn" title={t('shell.unsent.why')}><p>{sayTrouble(trouble)}</p></Notice>}
      <div class="actions">
        <Button kind="main" onPress={() => void syncNow()} disabled={phase === 'syncing'}>
          {t(phase === 'syncing' ? 'shell.unsent.sending' : 'shell.unsent.send')}
        </Button>
        {isShutOut(trouble) && <LinkButton href="#/join">{t('shell.join.again')}</LinkButton>}
        {count + rejected.length > 0 && <SaveUnsent />}
      </div>
      {rejected.length > 0 && <h2>{t('shell.rejected.title')}</h2>}
      {rejected.map((entry) => <RejectedEntry key={entry.id} entry={entry} />)}
    </Screen>
  );
}

function SaveUnsent() {
  const save = async (): Promise<void> => {
    const copy = await exportUnsent();
    if (copy) saveCopy(copy);
  };
  return <Button onPress={() => void save()}>{t('shell.unsent.copy')}</Button>;
}

function RejectedEntry({ entry }: { readonly entry: Rejected }) {
  const [failed, setFailed] = useState<string | null>(null);
  const attempt = (work: Promise<void>): void => {
    work.catch((error: unknown) => setFailed(sayError(error)));
  };
  return (
    <Notice tone="warn" title={eventWords(entry.event)}>
      <p>{sayTrouble(entry.why)}</p>
      {failed !== null && <p role="alert">{failed}</p>}
      <div class="actions">
        <Button onPress={() => attempt(book.tryAgain(entry.id))}>{t('shell.rejected.again')}</Button>
        <Confirm ask={t('shell.rejected.discard')} title={t('shell.rejected.sure')} sure={t('shell.rejected.discard')} onSure={() => attempt(discardRejected(entry.id as EventId))} />
      </div>
    </Notice>
  );
}
