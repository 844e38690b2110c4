// Jobs from a list: looked at first, every wrong cell by its row, then brought in. And everything out again.
import { useState } from 'preact/hooks';
import { Button, Notice } from '../../look';
import { callJson, CallFailed } from '../../sync/call';
import { syncNow } from '../../sync/sync';
import { t } from '../../words';
import { saveAnswer } from '../save-answer';
import { sayError } from '../trouble';
import { Problems, problemsIn, Rows, type Problem, type Told } from './listed';

type Busy = 'looking' | 'bringing' | 'export' | null;

export function BringIn() {
  const [list, setList] = useState<File | null>(null);
  const [told, setTold] = useState<Told | null>(null);
  const [wrong, setWrong] = useState<readonly Problem[]>([]);
  const [problem, setProblem] = useState<string | null>(null);
  const [busy, setBusy] = useState<Busy>(null);
  const attempt = (name: Busy, work: () => Promise<void>): void => {
    setBusy(name);
    setProblem(null);
    work()
      .catch((error: unknown) => {
        const cells = error instanceof CallFailed ? problemsIn(error.body) : [];
        setWrong(cells);
        setTold(null);
        if (cells.length === 0) setProblem(sayError(error));
      })
      .finally(() => setBusy(null));
  };
  const send = async (file: File, keep: boolean): Promise<void> => {
    const found = await callJson<Told>(`/api/jobs/import${keep ? '?keep=yes' : ''}`, { method: 'POST', bytes: await file.arrayBuffer(), mime: 'text/csv' });
    setTold(found);
    setWrong([]);
    if (keep) await syncNow();
  };
  const choose = (file: File | undefined): void => {
    setTold(null);
    setWrong([]);
    setList(file ?? null);
    if (file) attempt('looking', () => send(file, false));
  };
  return (
    <section class="stack">
      <h2>{t('bringIn.title')}</h2>
      <p>{t('bringIn.words')}</p>
      <div class="actions"><Button kind="quiet" onPress={() => attempt(null, () => saveAnswer('/api/jobs/import-template.csv', 'jobs.csv'))}>{t('bringIn.sample')}</Button></div>
      <label class="look-field">
        <span class="look-field-label">{t('bringIn.choose')}</span>
        {/* emptied on each press, so that a corrected list of the same name is read again */}
        <input class="look-input" type="file" accept=".csv,text/csv" onClick={(event) => { event.currentTarget.value = ''; }} onChange={(event) => choose(event.currentTarget.files?.[0])} />
      </label>
      {busy && <p role="status">{t(busy === 'looking' ? 'bringIn.looking' : busy === 'bringing' ? 'bringIn.bringing' : 'bringIn.export.making')}</p>}
      {problem !== null && <Notice tone="warn" title={t('bringIn.failed')} announce><p>{problem}</p></Notice>}
      {wrong.length > 0 && <Problems problems={wrong} />}
      {told && <Rows told={told} />}
      {told && list && !told.kept && told.new > 0 && (
        <div class="actions"><Button kind="main" disabled={busy !== null} onPress={() => attempt('bringing', () => send(list, true))}>{t('bringIn.keep', { new: told.new })}</Button></div>
      )}
      <h3>{t('bringIn.export')}</h3>
      <p>{t('bringIn.export.words')}</p>
      <div class="actions">
        <Button disabled={busy !== null} onPress={() => attempt('export', () => saveAnswer('/api/export.zip', 'export.zip'))}>{t('bringIn.export.plain')}</Button>
        <Button kind="quiet" disabled={busy !== null} onPress={() => attempt('export', () => saveAnswer('/api/export.zip?photos=yes', 'export.zip'))}>{t('bringIn.export.photos')}</Button>
      </div>
    </section>
  );
}
