import { t } from '../../words';
import { sayMoment } from './moment';
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
                <TimeCell when={row.window?.opens ?? null} now={now} timeZone={timeZone} />
                <TimeCell when={row.window?.closes ?? null} now={now} timeZone={timeZone} />
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <p class="soft">{t('look.tide.range_note')}</p>
      <p class="soft">{t('look.tide.key')}</p>
    </details>
  );
}

function TimeCell({ when, now, timeZone }: { when: When | null; now: Date; timeZone: string }) {
  if (!when) return <td>–</td>;
  return (
    <td>
      <span class="time">{sayMoment(new Date(when.likely), now, timeZone)}</span>{' '}
      <span class="soft">({sayRange(when, now, timeZone)})</span>
    </td>
  );
}
