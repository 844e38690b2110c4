// How the forecast sources stand: which is used, how old it is, what went wrong last, who is asked next.
import { useEffect, useState } from 'preact/hooks';
import type { JobId } from '../../shared/events';
import { sayMoment } from '../look';
import { callJson } from '../sync/call';
import { isWordKey, t } from '../words';
import { now } from '../shell/now';
import { sayError } from '../shell/trouble';

type Source = {
  readonly source: string;
  readonly order: number;
  readonly places: number;
  readonly used: number;
  readonly label: string | null;
  readonly issued_at: string | null;
  readonly failures: number;
  readonly why: string | null;
  readonly next_at: string | null;
};
type Answer = { readonly on: boolean; readonly label: string | null; readonly as_of: string | null; readonly sources: readonly Source[] };

/** For one job's place, or for all the company's. */
export function ForecastState({ job, timeZone }: { readonly job?: JobId; readonly timeZone?: string }) {
  const [answer, setAnswer] = useState<Answer | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  useEffect(() => {
    let current = true;
    callJson<Answer>(`/api/forecasts${job ? `?job=${job}` : ''}`).then(
      (found) => { if (current) setAnswer(found); },
      (error: unknown) => { if (current) setProblem(sayError(error)); },
    );
    return () => { current = false; };
  }, [job]);
  if (problem !== null) return <p role="status">{problem}</p>;
  if (!answer) return <p>{t('shell.loading')}</p>;
  if (!answer.on) return <p>{t('bringIn.forecast.off')}</p>;
  const zone = timeZone ?? Intl.DateTimeFormat().resolvedOptions().timeZone;
  return (
    <>
      {answer.label && <p>{t('bringIn.forecast.now', { label: answer.label })}</p>}
      {job && !answer.label && <p>{t('bringIn.forecast.none')}</p>}
      <ol>
        {answer.sources.map((source) => (
          <li key={source.source}>
            <strong>{sourceWords(source.source)}</strong>{`, ${t(source.order === 1 ? 'bringIn.forecast.first' : 'bringIn.forecast.next')}: ${standing(source, zone, job !== undefined)}`}
            {source.failures > 0 && <span class="board-alarm board-line">{t('bringIn.forecast.failing', { count: source.failures, why: source.why ?? '' })}</span>}
            {source.failures > 0 && source.next_at && <span class="soft board-line">{t('bringIn.forecast.asked_again', { time: sayMoment(new Date(source.next_at), now.value, zone) })}</span>}
          </li>
        ))}
      </ol>
    </>
  );
}

function sourceWords(source: string): string {
  const key = `bringIn.forecast.${source}`;
  return isWordKey(key) ? t(key) : source;
}

function standing({ used, issued_at }: Source, zone: string, one: boolean): string {
  if (used === 0) return t('bringIn.forecast.unused');
  const time = issued_at ? sayMoment(new Date(issued_at), now.value, zone) : '–';
  return t(one ? 'bringIn.forecast.used' : 'bringIn.forecast.used_for', { time, count: used });
}
