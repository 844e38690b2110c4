import { signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { Button, Empty, LinkButton, Notice, Screen, sayMoment } from '../look';
import { now } from '../shell/now';
import { sayTrouble } from '../shell/trouble';
import { askBoard, board, boardIsAsAsked, boardProblem, FIRST_PAGE } from '../sync/board';
import type { Board } from '../sync/contract';
import { t } from '../words';
import { ConflictsPart } from '../now/conflicts';
import { BoardFilters } from './filters';
import { BoardTable } from './table';
import { countStandings, FIRST_CHOICE, pickJobs, type BoardChoice } from './state';
import './style.css';

/** What the person chose to see; kept while the app is open, so that coming back from a job finds the board as it was. */
const choice = signal<BoardChoice>(FIRST_CHOICE);
const limit = signal(FIRST_PAGE);
const MORE = 120;

function choose(next: BoardChoice): void {
  choice.value = next;
  limit.value = FIRST_PAGE;
}

/** The office's home: every job, where it is, who is late, what is next. Late ones first. */
export function BoardScreen() {
  const seen = board.value;
  useEffect(() => askBoard(choice.value, limit.value), [choice.value, limit.value]);
  if (!seen) return <Waiting />;
  const shown = boardIsAsAsked.value ? seen.jobs : pickJobs(seen.jobs, choice.value, now.value);
  const counts = seen.counts ?? countStandings(seen.jobs, now.value);
  const all = counts.late + counts.watch + counts.steady;
  return (
    <Screen title={t('office.title')} under={all > 0 && <Summary late={counts.late} watch={counts.watch} all={all} />} wide>
      {boardProblem.value && <OldBoard seen={seen} />}
      {seen.conflicts && <ConflictsPart conflicts={seen.conflicts} now={now.value} />}
      {all === 0 ? (
        <NoJobs />
      ) : (
        <>
          <BoardFilters choice={choice.value} onChoose={choose} />
          {shown.length === 0 ? (
            <NoneFits />
          ) : (
            <BoardTable jobs={shown} choice={choice.value} onChoose={choose} now={now.value} />
          )}
          <More shown={shown.length} total={boardIsAsAsked.value ? (seen.total ?? shown.length) : shown.length} />
        </>
      )}
      <div class="actions no-print"><LinkButton href="#/looking-back">{t('lookback.title')}</LinkButton></div>
    </Screen>
  );
}

/** Nothing fits; or the server is still being asked, which knows more jobs than this page holds. */
function NoneFits() {
  if (!boardIsAsAsked.value && !boardProblem.value) return <p role="status">{t('office.looking')}</p>;
  return <Empty title={t('office.none.title')}>{t('office.none.words')}</Empty>;
}

function OldBoard({ seen }: { seen: Board }) {
  return (
    <Notice
      tone="warn"
      title={t('office.old', { time: sayMoment(new Date(seen.server_time), now.value, deskZone()) })}
    >
      {t('office.old.words', { why: boardProblem.value ? sayTrouble(boardProblem.value) : '' })}
    </Notice>
  );
}

/** How many of the jobs that fit are shown, and the rest. */
function More({ shown, total }: { shown: number; total: number }) {
  if (total <= shown) return null;
  return (
    <div class="row board-more">
      <p role="status">{t('office.more.shown', { shown, total })}</p>
      <div class="row no-print">
        <Button onPress={() => (limit.value += MORE)}>{t('office.more', { count: Math.min(MORE, total - shown) })}</Button>
        {total > shown + MORE && <Button kind="quiet" onPress={() => (limit.value = 10_000)}>{t('office.more.all', { count: total })}</Button>}
      </div>
    </div>
  );
}

const deskZone = () => Intl.DateTimeFormat().resolvedOptions().timeZone;

function Summary({ late, watch, all }: { late: number; watch: number; all: number }) {
  return (
    <span role="status" class="board-summary">
      {t('office.summary', { late, watch, all })}
    </span>
  );
}

function Waiting() {
  return (
    <Screen title={t('office.title')} wide>
      {boardProblem.value ? (
        <Notice tone="warn" title={t('office.no_board.title')}>
          {t('office.no_board.words', { why: sayTrouble(boardProblem.value) })}
        </Notice>
      ) : (
        <p role="status">{t('office.loading')}</p>
      )}
    </Screen>
  );
}

function NoJobs() {
  return (
    <Empty
      title={t('office.empty.title')}
      action={
        <>
          <LinkButton kind="main" href="#/new">
            {t('office.empty.job')}
          </LinkButton>
          <LinkButton href="#/settings">{t('office.empty.invite')}</LinkButton>
        </>
      }
    >
      <p>{t('office.empty.words')}</p>
    </Empty>
  );
}
