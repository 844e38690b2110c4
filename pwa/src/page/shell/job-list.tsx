// Jobs as a list of links, each to the phase it is in.
import type { JobLine } from '../log/glance';
import { t } from '../words';

const phaseSlug = (phase: JobLine['phase']): string => phase.replace('_', '-');

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
