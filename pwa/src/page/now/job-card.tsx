import { Button, Notice, TideStrip } from '../look';
import type { JobOutlook, Reminder, WindowName } from '../sync/contract';
import { inLanguage, t } from '../words';
import type { JobView } from '../../shared/job';
import { acknowledge } from './acknowledge';
import { TaskLine } from './lead';
import { sayAge } from './say';
import { freshness, type JobCard } from './state';
import { handStrip, sawStrip, type Strip } from './strips';

/** "Load 2, texture", "Whole slab, saw". */
export function nameRow(work: WindowName, load: number | null): string {
  const words = t(`look.work.${work}`);
  return load === null ? t('now.row.slab', { work: words }) : t('now.row.load', { load, work: words });
}

/** One job with concrete on the ground: what it asks for, its strips, how old its times are. */
export function PouredCard({ card, now }: { card: JobCard; now: Date }) {
  const { job, look, tasks, asking } = card;
  const timeline = look?.timeline ?? null;
  return (
    <article class="panel stack" aria-label={job.name}>
      <header class="now-card-head">
        <h2>
          <a href={`#/job/${job.id}/${job.phase.replace('_', '-')}`}>{job.name}</a>
        </h2>
        <span class="soft">{t(`now.phase.${job.phase}`)}</span>
      </header>
      {asking.map((reminder) => (
        <Asking key={reminder.id} reminder={reminder} />
      ))}
      <ul class="bare now-next">
        {tasks.map((task) => (
          <TaskLine key={`${task.work}-${task.load}-${task.coat}`} task={task} now={now} />
        ))}
      </ul>
      {tasks.length === 0 && timeline && <Notice title={t('now.done.title')}>{t('now.done.words')}</Notice>}
      {timeline && (
        <JobStrip strip={handStrip(job, timeline, now, nameRow)} job={job} now={now} title="now.strip.hand" />
      )}
      {timeline && (
        <JobStrip strip={sawStrip(job, timeline, now, nameRow)} job={job} now={now} title="now.strip.saw" />
      )}
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

function Asking({ reminder }: { reminder: Reminder }) {
  const title = inLanguage(reminder.title);
  return (
    <Notice tone={reminder.stage === 'heads_up' ? 'plain' : 'warn'} title={title}>
      <p>{inLanguage(reminder.words)}</p>
      <div class="row">
        <Button label={t('now.have_it.name', { title })} onPress={() => void acknowledge(reminder, 'app')}>
          {t('now.have_it')}
        </Button>
        <span class="soft">{t('now.asking')}</span>
      </div>
    </Notice>
  );
}

/** How old the times are, what weather they rest on, what is wrong and what to do about it. */
export function OutlookState({ job, look, now }: { job: JobView; look: JobOutlook | null; now: Date }) {
  if (!look) return <Notice title={t('now.not_worked_out.title')}>{t('now.not_worked_out.words')}</Notice>;
  const fresh = freshness(job, look, now);
  const age = sayAge(look.computed_at, now);
  const weather = look.weather.source === 'none' ? t('now.weather.none') : look.weather.label;
  return (
    <>
      {look.problem && (
        <Notice tone="stop" title={look.problem.message}>
          {look.problem.do}
        </Notice>
      )}
      {fresh.old && look.timeline && (
        <Notice tone="warn" title={t('now.worked_out', { age, weather })}>
          {t('now.old.words')}
        </Notice>
      )}
      {!fresh.old && <p class="soft">{t('now.worked_out', { age, weather })}</p>}
    </>
  );
}
