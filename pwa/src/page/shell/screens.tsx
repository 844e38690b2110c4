// Routes to screens. Who may see what follows from the role; a job the phone does not know says so.
import type { ComponentType, VNode } from 'preact';
import { useEffect } from 'preact/hooks';
import type { JobId } from '../../shared/events';
import type { JobView, ListName, Phase } from '../../shared/job';
import { book, jobView } from '../log/journal';
import { Empty, LinkButton, Screen } from '../look';
import { NowScreen } from '../now';
import type { Role } from '../sync/contract';
import { followJob } from '../sync/outlook';
import { me } from '../sync/state';
import { t } from '../words';
import { far, JobsScreen } from './jobs';
import { Later } from './later';
import type { ListSlug, PhaseSlug, Route } from './route';
import { UnsentScreen } from './unsent';

const office = new Later(() => import('../office'));
const phases = new Later(() => import('../phases'));
const decide = new Later(() => import('../decide'));
const settings = new Later(() => import('./settings/screen'));
const lookback = new Later(() => import('../office/lookback'));

/** Brings in every room the first load left out. */
export async function fetchRooms(): Promise<void> {
  await far.fetch();
  await phases.fetch();
  await decide.fetch();
  await office.fetch();
  await settings.fetch();
  await lookback.fetch();
}

const phaseOf = (slug: PhaseSlug): Phase => slug.replace('-', '_') as Phase;
const listOf = (slug: ListSlug): ListName => slug.replace('-', '_') as ListName;

/** Where a person starts. */
export function homeOf(role: Role): string {
  return { crew: '#/jobs', foreman: '#/now', office: '#/board' }[role];
}

/** The screen of a route. `home` and `join` are settled before this is asked. */
export function screenOf(route: Route): VNode {
  if (!book.ready.value && !['jobs', 'board', 'reminder'].includes(route.at)) return <p class="look-screen" role="status">{t('shell.loading')}</p>;
  switch (route.at) {
    case 'jobs': return <JobsScreen />;
    case 'new': return phases.draw(({ NewJobScreen }) => <NewJobScreen />);
    case 'now': return <NowScreen />;
    case 'board': return me.value?.role === 'crew' ? <Lost /> : office.draw(({ BoardScreen }) => <BoardScreen />);
    case 'office': return office.draw(({ OfficeJobScreen }) => <OfficeJobScreen job={route.job} />);
    case 'reminder': return office.draw(({ ReminderScreen }) => <ReminderScreen id={route.reminder} />);
    case 'looking-back': return me.value?.role === 'crew' ? <Lost /> : lookback.draw(({ LookingBackScreen }) => <LookingBackScreen />);
    case 'settings': return settings.draw(({ SettingsScreen }) => <SettingsScreen />);
    case 'unsent': return <UnsentScreen />;
    case 'job': return phases.draw(({ phaseScreens }) => <OfJob id={route.job} screen={(job) => phaseScreens[route.phase === null ? job.phase : phaseOf(route.phase)]} />);
    case 'list': return phases.draw(({ listScreens }) => <OfJob id={route.job} screen={() => listScreens[listOf(route.list)]} />);
    case 'decide': return decide.draw(({ decideScreens }) => <OfJob id={route.job} screen={() => decideScreens[route.what]} />);
    default: return <Lost />;
  }
}

type OfJobProps = { readonly id: JobId; readonly screen: (job: JobView) => ComponentType<{ job: JobView }> };

function OfJob({ id, screen }: OfJobProps) {
  const job = jobView(id).value;
  const known = job?.opened !== undefined;
  useEffect(() => (job?.opened ? followJob(job) : undefined), [id, known]);
  if (!job?.opened) return far.draw(({ BringJob }) => <BringJob id={id} />);
  const Found = screen(job);
  return <Found key={id} job={job} />;
}

function Lost() {
  return (
    <Screen title={t('shell.lost.title')}>
      <Empty title={t('shell.lost.none')} action={<LinkButton kind="main" href="#/">{t('shell.lost.home')}</LinkButton>} />
    </Screen>
  );
}
