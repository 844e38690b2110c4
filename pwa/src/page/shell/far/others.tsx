// The company's jobs that are not on this phone, as the server lists them. Nothing on a phone that holds them all.
import { useEffect, useState } from 'preact/hooks';
import type { JobId } from '../../../shared/events';
import type { Phase } from '../../../shared/job';
import { readMeta } from '../../../shared/store/meta';
import { jobs } from '../../log/journal';
import type { JobLine } from '../../log/glance';
import { storage } from '../../log/storage';
import { Button, Notice, TextField } from '../../look';
import { callJson } from '../../sync/call';
import { syncState } from '../../sync/state';
import { t } from '../../words';
import { JobList } from '../job-list';
import { online } from '../online';
import { sayError } from '../trouble';

type Listed = { readonly job: JobId; readonly name: string; readonly place: string | null; readonly phase: Phase; readonly open: boolean };
type Page = { readonly jobs: readonly Listed[]; readonly total: number };
const PAGE = 20;
const TYPING_MS = 300;

export function OtherJobs() {
  const [some, setSome] = useState(false);
  const synced = syncState.value.lastOk;
  useEffect(() => {
    void storage.run((db) => readMeta(db, 'carry')).then((carry) => setSome(carry !== undefined));
  }, [synced]);
  return some ? <Finder /> : null;
}

function Finder() {
  const [search, setSearch] = useState('');
  const there = online.value;
  return (
    <section class="stack" aria-label={t('far.others')}>
      <h2>{t('far.others')}</h2>
      <p class="soft">{t('far.others.why')}</p>
      {there ? (
        <>
          <TextField label={t('far.search')} type="search" value={search} maxLength={80} onCommit={setSearch} onType={setSearch} />
          <Found search={search} key={search} />
        </>
      ) : <Notice title={t('far.no_signal')} />}
    </section>
  );
}

/** A page of what fits, and more on request. */
function Found({ search }: { readonly search: string }) {
  const [limit, setLimit] = useState(PAGE);
  const [page, setPage] = useState<Page | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const [turn, setTurn] = useState(0);
  useEffect(() => {
    let current = true;
    const timer = setTimeout(() => {
      listed(search, limit).then(
        (found) => {
          if (!current) return;
          setPage(found);
          setProblem(null);
        },
        (error: unknown) => current && setProblem(sayError(error)),
      );
    }, search === '' ? 0 : TYPING_MS);
    return () => {
      current = false;
      clearTimeout(timer);
    };
  }, [search, limit, turn]);
  if (problem !== null) {
    return (
      <Notice tone="warn" title={t('far.not_listed')} announce>
        <p>{problem}</p>
        <div class="actions"><Button onPress={() => setTurn(turn + 1)}>{t('far.again')}</Button></div>
      </Notice>
    );
  }
  if (!page) return <p role="status">{t('shell.loading')}</p>;
  if (page.total === 0) return <p role="status">{t('far.none')}</p>;
  const here = new Set(jobs.value.map(({ id }) => id));
  const lines = page.jobs.filter(({ job }) => !here.has(job)).map(lineOf);
  return (
    <>
      <p class="soft" role="status">{t('far.total', { total: page.total, here: page.jobs.length - lines.length })}</p>
      <JobList lines={lines} />
      {page.jobs.length < page.total && <div class="actions"><Button onPress={() => setLimit(limit + PAGE)}>{t('far.more')}</Button></div>}
    </>
  );
}

const lineOf = ({ job, name, place, phase, open }: Listed): JobLine => ({ id: job, name, place, phase, closed: !open });

/** The server gives up to a hundred at once. */
async function listed(search: string, limit: number): Promise<Page> {
  const asked = encodeURIComponent(search.trim());
  const found: Listed[] = [];
  let total = 0;
  for (let skip = 0; skip < limit; skip += PAGE) {
    const page = await callJson<Page>(`/api/jobs?search=${asked}&skip=${skip}&limit=${PAGE}`);
    found.push(...page.jobs);
    total = page.total;
  }
  return { jobs: found, total };
}
