// The jobs on this phone, open ones first.
import { lineOf, readGlance, type JobLine } from '../log/glance';
import { book, jobs } from '../log/journal';
import { Empty, LinkButton, Screen } from '../look';
import { me, syncState } from '../sync/state';
import { t } from '../words';

const phaseSlug = (phase: JobLine['phase']): string => phase.replace('_', '-');

/** The jobs; before the log is open, as they looked last. */
const lines = (): readonly JobLine[] => (book.ready.value ? jobs.value.map(lineOf) : (readGlance()?.jobs ?? []));

export function JobsScreen() {
  const mayOpen = me.value?.role !== 'crew';
  const all = lines();
  const add = mayOpen ? <LinkButton kind="main" href="#/new">{t('shell.jobs.new')}</LinkButton> : null;
  return (
    <Screen title={t('shell.jobs.title')} {...(all.length > 0 && add ? { footer: add } : {})}>
      {all.length === 0 && book.ready.value && (
        <Empty title={t('shell.jobs.none')} action={add}>
          <p>{t(mayOpen ? 'shell.jobs.noneOpen' : syncState.value.lastOk === null ? 'shell.jobs.noneYet' : 'shell.jobs.noneCrew')}</p>
        </Empty>
      )}
      <JobList lines={all} />
    </Screen>
  );
}

export function JobList({ lines: all }: { readonly lines: readonly JobLine[] }) {
  return (
    <ul class="bare shell-jobs">
      {all.map((job) => <li key={job.id}><JobRow job={job} /></li>)}
    </ul>
  );
}

function JobRow({ job }: { readonly job: JobLine }) {
  return (
    <a class="shell-job" href={`#/job/${job.id}/${phaseSlug(job.phase)}`}>
      <span class="shell-job-name">{job.name}</span>
      {job.place && <span class="soft">{job.place}</span>}
      <span class="shell-job-phase">{job.closed ? t('shell.jobs.closed') : t(`shell.phase.${job.phase}`)}</span>
    </a>
  );
}
