import type { ComponentChildren } from 'preact';
import { formatVolume } from '../../shared/units';
import { sayMoment } from '../look';
import { sayProblem } from '../now/notices';
import { units } from '../shell/preferences';
import { outlook } from '../sync/outlook';
import type { BoardJob } from '../sync/contract';
import { t } from '../words';
import { personName, sayAgo, sayNext, zoneOf } from './say';
import { checklistSum, heldBack, inHand, sortBy, standing, type BoardChoice, type SortKey } from './state';

interface Props {
  jobs: readonly BoardJob[];
  choice: BoardChoice;
  onChoose: (choice: BoardChoice) => void;
  now: Date;
}

const COLUMNS = ['job', 'phase', 'next', 'hand', 'heard', 'loads', 'lists', 'pins'] as const;
type Column = (typeof COLUMNS)[number];
const SORTED_BY: Partial<Record<Column, SortKey>> = {
  job: 'name',
  phase: 'phase',
  next: 'urgent',
  heard: 'heard',
  loads: 'pour',
};

/** The board as a table on a desk; the same rows stand as cards on a phone. Roles are named, as the cards undo the table's own. */
export function BoardTable({ jobs, choice, onChoose, now }: Props) {
  return (
    <table class="board" role="table" aria-label={t('office.title')}>
      <thead role="rowgroup">
        <tr role="row">
          {COLUMNS.map((column) => (
            <Heading key={column} column={column} choice={choice} onChoose={onChoose} />
          ))}
        </tr>
      </thead>
      <tbody role="rowgroup">
        {jobs.map((job) => (
          <BoardRow key={job.job} job={job} now={now} />
        ))}
      </tbody>
    </table>
  );
}

function Heading({ column, choice, onChoose }: { column: Column } & Pick<Props, 'choice' | 'onChoose'>) {
  const sort = SORTED_BY[column];
  const words = t(`office.col.${column}`);
  const leads = sort !== undefined && choice.sort === sort;
  if (!sort) {
    return (
      <th role="columnheader" scope="col">
        {words}
      </th>
    );
  }
  return (
    <th
      role="columnheader"
      scope="col"
      aria-sort={leads ? (choice.down ? 'descending' : 'ascending') : 'none'}
    >
      <button type="button" class="board-sort" onClick={() => onChoose(sortBy(choice, sort))}>
        {words} <span aria-hidden="true">{leads ? (choice.down ? '▼' : '▲') : '↕'}</span>
      </button>
    </th>
  );
}

function BoardRow({ job, now }: { job: BoardJob; now: Date }) {
  const state = standing(job, now);
  const lists = checklistSum(job);
  return (
    <tr role="row" class={`board-row board-row-${state}`}>
      <th role="rowheader" scope="row">
        <a class="board-job" href={`#/office/${job.job}`}>
          {job.name}
        </a>
        {job.place && <span class="soft board-line">{job.place}</span>}
        <span class={`board-standing board-standing-${state}`}>{t(`office.standing.${state}`)}</span>
      </th>
      <Cell column="phase">{phaseWords(job.phase)}</Cell>
      <Cell column="next">
        <NextCell job={job} now={now} />
      </Cell>
      <Cell column="hand">
        <HandCell job={job} now={now} />
      </Cell>
      <Cell column="heard">
        <HeardCell job={job} now={now} />
      </Cell>
      <Cell column="loads">
        <LoadsCell job={job} now={now} />
      </Cell>
      <Cell column="lists">{lists.total > 0 ? t('office.of', lists) : '–'}</Cell>
      <Cell column="pins">{job.open_pins}</Cell>
    </tr>
  );
}

function Cell({ column, children }: { column: Column; children: ComponentChildren }) {
  return (
    <td role="cell" class={`board-cell board-cell-${column}`}>
      <span class="board-label" aria-hidden="true">
        {t(`office.col.${column}`)}
      </span>
      <span class="board-value">{children}</span>
    </td>
  );
}

const PHASES = ['layout', 'ready', 'pour', 'texture', 'next_days', 'record'] as const;

export function phaseWords(phase: string): string {
  const known = PHASES.find((one) => one === phase);
  return known ? t(`shell.phase.${known}`) : phase;
}

function NextCell({ job, now }: { job: BoardJob; now: Date }) {
  const next = sayNext(job, now);
  return (
    <>
      {next ? <strong class="board-line time">{next.head}</strong> : <span>{t('office.next.none')}</span>}
      {next?.slack && <span class="board-line">{next.slack}</span>}
      {job.next?.state === 'failed' && <span class="board-line board-alarm">{t('office.undelivered')}</span>}
      {job.problem && <span class="board-line board-alarm">{sayProblem(job.problem).title}</span>}
    </>
  );
}

function HandCell({ job, now }: { job: BoardJob; now: Date }) {
  const ack = job.last_ack;
  const open = job.next !== null && Date.parse(job.next.due) <= now.getTime() && !inHand(job);
  return (
    <>
      {open && <strong class="board-line">{t('office.hand.nobody')}</strong>}
      {ack && (
        <span class="board-line">
          {t('office.hand.by', {
            what: t(`office.what.${ack.what as 'saw'}`),
            who: personName(ack.by, outlook.value),
            time: sayMoment(new Date(ack.at), now, zoneOf(job.job)),
          })}
        </span>
      )}
      {!open && !ack && '–'}
    </>
  );
}

function HeardCell({ job, now }: { job: BoardJob; now: Date }) {
  return (
    <>
      {job.last_heard_at ? (
        <span class="board-line">
          {[sayAgo(job.last_heard_at, now), job.last_heard_from].filter(Boolean).join(', ')}
        </span>
      ) : (
        <span>{t('office.heard.never')}</span>
      )}
      {job.unsent > 0 && (
        <span class={`board-line${heldBack(job, now) ? ' board-alarm' : ''}`}>
          {t('office.unsent', {
            count: job.unsent,
            age: job.oldest_unsent_at ? sayAgo(job.oldest_unsent_at, now) : '',
          })}
        </span>
      )}
    </>
  );
}

function LoadsCell({ job, now }: { job: BoardJob; now: Date }) {
  const placed = formatVolume(job.volume_placed_m3, units.value);
  const ordered = job.volume_ordered_m3 === null ? null : formatVolume(job.volume_ordered_m3, units.value);
  return (
    <>
      <span class="board-line">
        {job.loads_ordered === null
          ? t('office.loads.unordered')
          : t('office.loads.of', { done: job.loads_placed, total: job.loads_ordered })}
      </span>
      {ordered && <span class="board-line">{t('office.of', { done: placed, total: ordered })}</span>}
      {job.pour_at && (
        <span class="board-line soft">
          {t('office.pour', { time: sayMoment(new Date(job.pour_at), now, zoneOf(job.job)) })}
        </span>
      )}
    </>
  );
}
