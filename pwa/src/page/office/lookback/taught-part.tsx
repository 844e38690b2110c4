import { useEffect, useState } from 'preact/hooks';
import { ROLES } from '../../../shared/events';
import type { JobView } from '../../../shared/job';
import { Button, TextField } from '../../look';
import { sayError } from '../../shell/trouble';
import { callJson, CallFailed } from '../../sync/call';
import { me } from '../../sync/state';
import { t } from '../../words';
import { NotKept } from './callback-form';
import type { Taught } from './contract';
import { keep, takeOut } from './keep';
import { isByBook, sayPace } from './say';

const waitMs = 4_000;

/** On a closed job: what it told of its mix and what that moved, and a way to leave it out. Asks the server. */
export function TaughtPart({ job }: { readonly job: JobView }) {
  const may = me.value !== null && ROLES['learning.set_aside'].includes(me.value.role);
  if (!job.closed || !may) return null;
  return (
    <section class="block" aria-labelledby="taught">
      <h2 id="taught">{t('lookback.taught')}</h2>
      <Told job={job} />
      <AsidePart job={job} />
    </section>
  );
}

function Told({ job }: { readonly job: JobView }) {
  const [taught, setTaught] = useState<Taught | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const rests = `${job.closed?.event ?? ''} ${job.aside?.event ?? ''}`;
  useEffect(() => {
    let timer: ReturnType<typeof setTimeout> | undefined;
    let here = true;
    const ask = (): void => void callJson<Taught>(`/api/jobs/${job.id}/taught`).then(
      (found) => {
        if (!here) return;
        setTaught(found);
        setProblem(null);
        // The server folds a little after it hears; until then it tells of before.
        if ((found.aside !== null) !== (job.aside !== null)) timer = setTimeout(ask, waitMs);
      },
      (error: unknown) => {
        if (!here) return;
        const waits = error instanceof CallFailed && error.status === 404;
        setProblem(waits ? t('lookback.taught.wait') : sayError(error));
        if (waits) timer = setTimeout(ask, waitMs);
      },
    );
    ask();
    return () => {
      here = false;
      clearTimeout(timer);
    };
  }, [job.id, rests]);
  if (problem !== null) return <p role="status">{problem}</p>;
  if (!taught) return <p role="status">{t('lookback.loading')}</p>;
  return <p role="status">{sayTaught(taught)}</p>;
}

/** "This pour set 14 % slower than the book, ±6 %. It moved Patio mix from as the book ±20 % to 9 % slower ±12 %." */
export function sayTaught({ mix, told, before, after, aside, book_doubt_percent }: Taught): string {
  if (!told) return t('lookback.taught.nothing');
  const doubt = Math.round(told.doubt_percent);
  const own = isByBook(told.percent) ? t('lookback.taught.told.book', { doubt }) : t('lookback.taught.told', { pace: sayPace(told.percent), doubt });
  if (aside !== null || !after) return own;
  const moved = {
    mix,
    before: sayPace(before?.percent ?? 0),
    before_doubt: Math.round(before?.doubt_percent ?? book_doubt_percent),
    after: sayPace(after.percent),
    after_doubt: Math.round(after.doubt_percent),
  };
  return `${own} ${t('lookback.taught.moved', moved)}`;
}

function AsidePart({ job }: { readonly job: JobView }) {
  const [open, setOpen] = useState(false);
  const [why, setWhy] = useState('');
  const { aside } = job;
  if (aside) {
    return (
      <div class="stack no-print">
        <p>{t('lookback.taught.aside', { why: aside.why })}</p>
        <Button onPress={() => void takeOut(job.id, aside.event, t('lookback.did.back'))}>{t('lookback.set_aside.back')}</Button>
        <NotKept />
      </div>
    );
  }
  const save = async (): Promise<void> => {
    if (await keep(job.id, 'learning.set_aside', { why: why.trim() }, t('lookback.did.aside'))) setOpen(false);
  };
  return (
    <div class="stack no-print">
      <Button expanded={open} onPress={() => setOpen(!open)}>{t('lookback.set_aside')}</Button>
      {open && (
        <>
          <TextField label={t('lookback.set_aside.why')} value={why} maxLength={200} onCommit={setWhy} onType={setWhy} />
          <Button kind="main" disabled={why.trim() === ''} onPress={() => void save()}>{t('lookback.set_aside.do')}</Button>
        </>
      )}
      <NotKept />
    </div>
  );
}
