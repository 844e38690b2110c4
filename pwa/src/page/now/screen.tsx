import type { JobView } from '../../shared/job';
import { EngineNews } from '../engine/line';
import { Button, Empty, LinkButton, Screen } from '../look';
import { jobs } from '../log/journal';
import { now } from '../shell/now';
import { outlook } from '../sync/outlook';
import { me } from '../sync/state';
import { t } from '../words';
import { ComingPour } from './coming';
import { JobConflicts } from './conflicts';
import { PouredCard } from './job-card';
import { LeadLine, NextLines } from './lead';
import { partCards, restOpen } from './near';
import { readNow, type JobCard, type NowView } from './state';
import { severalZones, ZoneNote } from './zone-note';
import './style.css';

/** The foreman's home: what the concrete allows now and next, over all jobs. Works from what the phone keeps. */
export function NowScreen() {
  const view = readNow(jobs.value, outlook.value, now.value);
  return (
    <Screen title={t('now.title')} wide>
      {jobs.value.length === 0 ? <NoJobs /> : <Lead view={view} />}
      <OneZone view={view} />
      <JobConflicts />
      <EngineNews />
      <Poured view={view} />
      {view.coming.length > 0 && <h2>{t('now.pours')}</h2>}
      <div class="now-columns">
        {view.coming.map((job) => (
          <ComingPour key={job.id} job={job} look={outlook.value?.jobs[job.id] ?? null} now={now.value} />
        ))}
      </div>
      <Laying jobs={view.laying} />
    </Screen>
  );
}

/** Whose times these are, said once where all jobs lie in one zone. */
function OneZone({ view }: { view: NowView }) {
  const job = view.poured[0]?.job ?? view.coming[0];
  return job && !severalZones.value ? <ZoneNote job={job} /> : null;
}

/** A card for each job that asks for something within a day; the others behind one line. */
function Poured({ view }: { view: NowView }) {
  const { near, rest } = partCards(view.poured, view.lead, outlook.value, now.value);
  return (
    <>
      <Cards cards={near} />
      {rest.length > 0 && (
        <section class="stack" aria-label={t('now.rest.name')}>
          <Button wide expanded={restOpen.value} onPress={() => (restOpen.value = !restOpen.value)}>
            {t(near.length > 0 ? 'now.rest.more' : 'now.rest.all', { count: rest.length })}
          </Button>
          {restOpen.value && <Cards cards={rest} />}
        </section>
      )}
    </>
  );
}

function Cards({ cards }: { cards: readonly JobCard[] }) {
  if (cards.length === 0) return null;
  return (
    <div class="now-columns">
      {cards.map((card) => (
        <PouredCard key={card.job.id} card={card} now={now.value} />
      ))}
    </div>
  );
}

/** Before the first sync nobody knows whether there are jobs; after it, there are none. Crew wait for their foreman's. */
function NoJobs() {
  const first = outlook.value === null;
  const crew = me.value?.role === 'crew';
  const action = (
    <LinkButton kind={first ? 'plain' : 'main'} href="#/new">
      {t(first ? 'now.first.action' : 'now.empty.action')}
    </LinkButton>
  );
  return (
    <Empty title={t(first ? 'now.first.title' : 'now.empty.title')} action={crew ? undefined : action}>
      <p>{t(crew ? 'now.empty.crew' : first ? 'now.first.words' : 'now.empty.words')}</p>
    </Empty>
  );
}

function Lead({ view }: { view: NowView }) {
  if (view.lead) {
    return (
      <div class="now-top">
        <LeadLine task={view.lead} now={now.value} />
        <NextLines tasks={view.next} now={now.value} />
      </div>
    );
  }
  return (
    <Empty title={t('now.quiet.title')} action={<LinkButton href="#/jobs">{t('now.all_jobs')}</LinkButton>}>
      <p>{t('now.quiet.words')}</p>
    </Empty>
  );
}

function Laying({ jobs: laying }: { jobs: readonly JobView[] }) {
  if (laying.length === 0) return null;
  return (
    <section class="stack">
      <h2>{t('now.laying')}</h2>
      <ul class="bare now-next">
        {laying.map((job) => (
          <li key={job.id}>
            <a class="now-line" href={`#/job/${job.id}/layout`}>
              <strong>{job.name}</strong> {job.opened?.place}
            </a>
          </li>
        ))}
      </ul>
    </section>
  );
}
