import type { ComponentChildren } from 'preact';
import type { BoardJob } from '../sync/contract';
import { t } from '../words';
import { HandCell, HeardCell, LoadsCell, NextCell } from './cells';
import { phaseWords, sayStanding } from './say';
import { moveByKey } from './keys';
import { checklistSum, sortBy, standing, type BoardChoice, type SortKey } from './state';

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
      <tbody role="rowgroup" onKeyDown={moveByKey}>
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
        <span class={`board-standing board-standing-${state}`}>{sayStanding(job, now)}</span>
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
