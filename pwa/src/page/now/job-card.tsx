import { PaceLine } from '../decide/pace-panel';
import { LinkButton, Notice, TideStrip } from '../look';
import { findDoubles } from '../../shared/doubles';
import type { JobOutlook, WindowName } from '../sync/contract';
import { isFar } from '../sync/far';
import { outlook } from '../sync/outlook';
import { t } from '../words';
import type { JobView } from '../../shared/job';
import { TaskLine } from './lead';
import { TroubleNotice, WatchFor } from './notices';
import { sayAge } from './say';
import { freshness, type JobCard } from './state';
import type { Work } from './tasks';
import { handStrip, sawStrip, type Strip } from './strips';
import { sayWeatherLabel } from './weather-label';
import { severalZones, ZoneNote } from './zone-note';

/** "Load 2, texture", "Whole slab, saw". */
export function nameRow(work: WindowName, load: number | null): string {
  const words = t(`look.work.${work}`);
  return load === null ? t('now.row.slab', { work: words }) : t('now.row.load', { load, work: words });
}

/** Work that no strip on the card shows. */
const DAY_WORK: readonly Work[] = ['wash', 'colour', 'seal'];

/** One job with concrete on the ground: what it asks for, its strips, how old its times are. */
export function PouredCard({ card, now }: { card: JobCard; now: Date }) {
  const { job, look, tasks } = card;
  const timeline = look?.timeline ?? null;
  const doubles = findDoubles(job.loads, job.notes).length;
  const listed = timeline ? tasks.filter((task) => DAY_WORK.includes(task.work)) : tasks;
  return (
    <article class="panel stack" aria-label={job.name}>
      <header class="now-card-head">
        <h2>
          <a href={`#/job/${job.id}/${job.phase.replace('_', '-')}`}>{job.name}</a>
        </h2>
        <span class="soft">{t(`shell.phase.${job.phase}`)}</span>
      </header>
      {severalZones.value && <ZoneNote job={job} />}
      {doubles > 0 && <Notice tone="warn" title={t('now.doubles', { count: doubles })}><LinkButton href={`#/job/${job.id}/pour`}>{t('shell.phase.pour')}</LinkButton></Notice>}
      <PaceLine job={job} timeline={timeline} now={now} />
      {tasks.length === 0 && timeline && <Notice title={t('now.done.title')}>{t('now.done.words')}</Notice>}
      {timeline && (
        <JobStrip strip={handStrip(job, timeline, now, nameRow)} job={job} now={now} title="now.strip.hand" />
      )}
      {timeline && (
        <JobStrip strip={sawStrip(job, timeline, now, nameRow)} job={job} now={now} title="now.strip.saw" />
      )}
      {listed.length > 0 && (
        <ul class="bare now-next">
          {listed.map((task) => (
            <TaskLine key={`${task.work}-${task.load}-${task.coat}`} task={task} now={now} />
          ))}
        </ul>
      )}
      {timeline && <WatchFor job={job} timeline={timeline} now={now} />}
      <OutlookState job={job} look={look} now={now} />
    </article>
  );
}

interface JobStripProps {
  strip: Strip | null;
  job: JobView;
  now: Date;
  title: 'now.strip.hand' | 'now.strip.saw';
}

export function JobStrip({ strip, job, now, title }: JobStripProps) {
  if (!strip) return null;
  const timeZone = job.opened?.time_zone ?? 'UTC';
  return <TideStrip {...strip} now={now} timeZone={timeZone} title={t(title, { job: job.name })} />;
}

/** How old the times are, what weather they rest on, what is wrong and what to do about it. */
export function OutlookState({ job, look, now }: { job: JobView; look: JobOutlook | null; now: Date }) {
  if (!look && isFar(outlook.value, job)) return <Notice title={t('now.not_here')}>{t('now.not_here.words')}</Notice>;
  if (!look) return <Notice title={t('now.not_worked_out.title')}>{t('now.not_worked_out.words')}</Notice>;
  const fresh = freshness(job, look, now);
  const age = sayAge(look.computed_at, now);
  const weather = look.weather.source === 'none' ? t('now.weather.none') : sayWeatherLabel(look.weather.label);
  const words = t(look.worked_here ? 'engine.worked_here' : 'now.worked_out', { age, weather });
  return (
    <>
      {look.problem && <TroubleNotice problem={look.problem} />}
      {fresh.old && look.timeline && (
        <Notice tone="warn" title={words}>
          {t('now.old.words')}
        </Notice>
      )}
      {!fresh.old && <p class="soft">{words}</p>}
    </>
  );
}
