// A job that is not on this phone: fetched as soon as there is signal, and held from then on.
import { useEffect, useState } from 'preact/hooks';
import type { JobId } from '../../../shared/events';
import { Button, Empty, Notice, Screen } from '../../look';
import { carrier, type Brought } from '../../sync/carry';
import { noteOpened } from '../../sync/near';
import { t } from '../../words';
import { online } from '../online';
import { sayError } from '../trouble';

type End = Brought | { readonly problem: string } | null;

export function BringJob({ id }: { readonly id: JobId }) {
  const [count, setCount] = useState(0);
  const [end, setEnd] = useState<End>(null);
  const [turn, setTurn] = useState(0);
  const there = online.value;
  useEffect(() => {
    let current = true;
    setEnd(null);
    setCount(0);
    const settle = (found: End): void => void (current && setEnd(found));
    bring(id, there, (entries) => current && setCount(entries)).then(settle, (error: unknown) => settle({ problem: sayError(error) }));
    return () => {
      current = false;
    };
  }, [id, there, turn]);
  return (
    <Screen title={t('shell.unknownJob.title')} back="#/jobs">
      <How end={end} count={count} there={there} onAgain={() => setTurn(turn + 1)} />
    </Screen>
  );
}

/** Noted as opened first, so that nothing lets it go again. Without signal only whether it could be fetched. */
async function bring(id: JobId, there: boolean, onCount: (entries: number) => void): Promise<Brought> {
  await noteOpened(id);
  return there ? carrier.bring(id, onCount) : carrier.look(id);
}

type HowProps = { readonly end: End; readonly count: number; readonly there: boolean; readonly onAgain: () => void };

function How({ end, count, there, onAgain }: HowProps) {
  if (end === 'all') return <Empty title={t('shell.unknownJob.none')}><p>{t('shell.unknownJob.words')}</p></Empty>;
  if (end === 'unknown') return <Empty title={t('far.unknown')}><p>{t('far.unknown.words')}</p></Empty>;
  if (!there) return <Empty title={t('far.not_here')}><p>{t('far.needs_signal')}</p></Empty>;
  const again = <Button kind="main" onPress={onAgain}>{t('far.again')}</Button>;
  if (end !== null && typeof end === 'object') {
    return (
      <Notice tone="warn" title={t('far.not_here')} announce>
        <p>{end.problem}</p>
        <div class="actions">{again}</div>
      </Notice>
    );
  }
  // between the answer and its drawing it is held; `apart` and `behind` are put right by the sync that follows
  if (end === 'apart' || end === 'behind') return <Empty title={t('far.not_here')} action={again}><p>{t('far.after_sync')}</p></Empty>;
  return (
    <Empty title={t('far.coming')}>
      <p role="status">{count > 0 ? t('far.count', { count }) : t('far.coming.words')}</p>
    </Empty>
  );
}
