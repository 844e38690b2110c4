import { t } from '../../words';
import { formatTime } from '../../../shared/units';
import { sayRange, sayState } from './say';
import { stateWord, type When } from './window';
import type { TideRow } from './TideStrip';

/** The same rows as a table: for screen readers, for print, and for anyone who wants the times plain. */
export function TideTable({
  rows,
  now,
  timeZone,
}: {
  rows: readonly TideRow[];
  now: Date;
  timeZone: string;
}) {
  return (
    <details class="tide-table">
      <summary>{t('look.tide.table')}</summary>
      <div class="scroll-x" tabIndex={0} role="group" aria-label={t('look.tide.table')}>
        <table>
          <thead>
            <tr>
              <th scope="col">{t('look.tide.col.what')}</th>
              <th scope="col">{t('look.tide.col.state')}</th>
              <th scope="col">{t('look.tide.col.opens')}</th>
              <th scope="col">{t('look.tide.col.closes')}</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={row.id}>
                <th scope="row">{row.label}</th>
                <td>{row.window ? sayState(stateWord(now, row.window)) : t('look.tide.none')}</td>
                <TimeCell when={row.window?.opens ?? null} timeZone={timeZone} />
                <TimeCell when={row.window?.closes ?? null} timeZone={timeZone} />
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <p class="soft">{t('look.tide.range_note')}</p>
    </details>
  );
}

function TimeCell({ when, timeZone }: { when: When | null; timeZone: string }) {
  if (!when) return <td>–</td>;
  return (
    <td>
      <span class="time">{formatTime(new Date(when.likely), timeZone)}</span>{' '}
      <span class="soft">({sayRange(when, timeZone)})</span>
    </td>
  );
}
