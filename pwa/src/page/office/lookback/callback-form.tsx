import { useState } from 'preact/hooks';
import type { BayId, CallbackNoted } from '../../../shared/events';
import { ROLES } from '../../../shared/events';
import type { JobView } from '../../../shared/job';
import { Button, Choice, Field, Notice, TextField } from '../../look';
import { me } from '../../sync/state';
import { t } from '../../words';
import { keep, notKept } from './keep';
import { sayDate, sayWhat } from './say';

const WHATS = ['crack', 'colour', 'scaling', 'ravelled', 'white_sealer', 'settled', 'slippery', 'other'] as const satisfies readonly CallbackNoted['what'][];

/** Notes what an owner called back about, on a closed job; the callbacks so far stand above. */
export function CallbackPart({ job }: { readonly job: JobView }) {
  const [open, setOpen] = useState(false);
  const may = me.value !== null && ROLES['callback.noted'].includes(me.value.role);
  if (!job.closed || (!may && job.callbacks.length === 0)) return null;
  return (
    <section class="block no-print" aria-labelledby="callback">
      <div class="block-head">
        <h2 id="callback">{t('lookback.callback')}</h2>
        {may && <Button expanded={open} onPress={() => setOpen(!open)}>{t(open ? 'lookback.care.close' : 'lookback.callback.add')}</Button>}
      </div>
      {job.callbacks.length > 0 && (
        <ul>
          {job.callbacks.map((one) => <li key={one.event}>{[sayDate(one.at.slice(0, 10)), sayWhat(one.what), bayOf(job, one.bay), one.note].filter(Boolean).join(' · ')}</li>)}
        </ul>
      )}
      {!open && job.callbacks.length === 0 && <p class="soft">{t('lookback.callback.how')}</p>}
      {open && <CallbackForm job={job} onDone={() => setOpen(false)} />}
    </section>
  );
}

const bayOf = (job: JobView, bay: string | null): string => job.bays.find(({ id }) => id === bay)?.label ?? '';

function CallbackForm({ job, onDone }: { readonly job: JobView; readonly onDone: () => void }) {
  const [what, setWhat] = useState<CallbackNoted['what']>('crack');
  const [bay, setBay] = useState('');
  const [note, setNote] = useState('');
  const save = async (): Promise<void> => {
    const body = { what, bay: bay === '' ? null : (bay as BayId), note: note.trim() || null };
    if (await keep(job.id, 'callback.noted', body, t('lookback.did.callback'))) onDone();
  };
  return (
    <div class="stack">
      <Choice label={t('lookback.callback.what')} value={what} options={WHATS.map((one) => ({ value: one, label: sayWhat(one) }))} onPick={setWhat} />
      {job.bays.length > 1 && (
        <Field label={t('lookback.callback.bay')}>
          <select class="look-input" value={bay} onChange={(event) => setBay(event.currentTarget.value)}>
            <option value="">{t('lookback.callback.anywhere')}</option>
            {job.bays.map(({ id, label }) => <option key={id} value={id}>{label}</option>)}
          </select>
        </Field>
      )}
      <TextField label={t('lookback.callback.note')} value={note} lines={2} maxLength={500} onCommit={setNote} onType={setNote} />
      <NotKept />
      <div class="actions"><Button kind="main" onPress={() => void save()}>{t('lookback.callback.save')}</Button></div>
    </div>
  );
}

export function NotKept() {
  if (notKept.value === null) return null;
  return <Notice tone="stop" title={t('lookback.not_kept')} announce><p>{notKept.value}</p></Notice>;
}
