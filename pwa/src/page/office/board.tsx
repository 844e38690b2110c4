import { signal } from '@preact/signals';
import { Empty, LinkButton, Notice, Screen, sayMoment } from '../look';
import { now } from '../shell/now';
import { sayTrouble } from '../shell/trouble';
import { board, boardProblem } from '../sync/board';
import { t } from '../words';
import { BoardFilters } from './filters';
import { BoardTable } from './table';
import { countStandings, FIRST_CHOICE, pickJobs, type BoardChoice } from './state';
import './style.css';

/** What the person chose to see; kept while the app is open, so that coming back from a job finds the board as it was. */
const choice = signal<BoardChoice>(FIRST_CHOICE);

/** The office's home: every job, where it is, who is late, what is next. Late ones first. */
export function BoardScreen() {
  const seen = board.value;
  if (!seen) return <Waiting />;
  const shown = pickJobs(seen.jobs, choice.value, now.value);
  const counts = countStandings(seen.jobs, now.value);
  return (
    <Screen
      title={t('office.title')}
      under={
        seen.jobs.length > 0 && <Summary late={counts.late} watch={counts.watch} all={seen.jobs.length} />
      }
      wide
    >
      {boardProblem.value && (
        <Notice
          tone="warn"
          title={t('office.old', { time: sayMoment(new Date(seen.server_time), now.value, deskZone()) })}
        >
          {t('office.old.words', { why: sayTrouble(boardProblem.value) })}
        </Notice>
      )}
      {seen.jobs.length === 0 ? (
        <NoJobs />
      ) : (
        <>
          <BoardFilters choice={choice.value} onChoose={(next) => (choice.value = next)} />
          {shown.length === 0 ? (
            <Empty title={t('office.none.title')}>{t('office.none.words')}</Empty>
          ) : (
            <BoardTable
              jobs={shown}
              choice={choice.value}
              onChoose={(next) => (choice.value = next)}
              now={now.value}
            />
          )}
        </>
      )}
      <div class="actions no-print"><LinkButton href="#/looking-back">{t('lookback.title')}</LinkButton></div>
    </Screen>
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
