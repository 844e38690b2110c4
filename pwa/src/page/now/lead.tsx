import { LinkButton, StateMark, sayState } from '../look';
import { t } from '../words';
import { sayLead } from './say';
import type { Task } from './tasks';
import { severalZones, ZoneNote } from './zone-note';

/** The screen where a piece of work is logged. */
export function phaseOfTask(task: Task): 'texture' | 'next-days' {
  return task.work === 'edge' || task.work === 'texture' ? 'texture' : 'next-days';
}

/** The single first line: what to do, by when, how long is left. */
export function LeadLine({ task, now }: { task: Task; now: Date }) {
  const lead = sayLead(task, now);
  const phase = phaseOfTask(task);
  return (
    <div class={`now-lead now-lead-${task.state}`}>
      <p class="now-lead-where">
        <StateMark state={task.state} />
        <span>
          {task.job.name}: {sayState(task.state)}
        </span>
      </p>
      <h2 class="big-time">{lead.head}</h2>
      <p class="now-lead-tail">{lead.tail}</p>
      {severalZones.value && <ZoneNote job={task.job} />}
      <div class="actions">
        <LinkButton kind="main" href={`#/job/${task.job.id}/${phase}`}>
          {t(`now.go.${phase}`)}
        </LinkButton>
      </div>
    </div>
  );
}

/** What comes after, one line each. */
export function NextLines({ tasks, now }: { tasks: readonly Task[]; now: Date }) {
  if (tasks.length === 0) return null;
  return (
    <div class="stack">
      <h2>{t('now.next')}</h2>
      <ul class="bare now-next">
        {tasks.map((task) => (
          <TaskLine
            key={`${task.job.id}-${task.work}-${task.load}-${task.coat}`}
            task={task}
            now={now}
            named
          />
        ))}
      </ul>
    </div>
  );
}

/** One task as a line that leads to where it is logged. */
export function TaskLine({ task, now, named }: { task: Task; now: Date; named?: boolean }) {
  const lead = sayLead(task, now);
  return (
    <li>
      <a class="now-line" href={`#/job/${task.job.id}/${phaseOfTask(task)}`}>
        <StateMark state={task.state} />
        <span>
          <strong class="now-line-head">{lead.head}</strong> <span class="now-line-tail">{lead.tail}</span>
          {named && <span class="now-line-job">{task.job.name}</span>}
        </span>
      </a>
    </li>
  );
}
