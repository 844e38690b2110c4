// The jobs on this phone, open ones first.
import { lineOf, readGlance, type JobLine } from '../log/glance';
import { book, jobs } from '../log/journal';
import { Empty, LinkButton, Screen } from '../look';
import { me, syncState } from '../sync/state';
import { t } from '../words';
import { JobList } from './job-list';
import { Later } from './later';

/** What is said of jobs that are not on this phone. */
export const far = new Later(() => import('./far'));

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
      {far.drawIfHere(({ OtherJobs }) => <OtherJobs />)}
    </Screen>
  );
}
