import type { JobView } from '../../shared/job';
import { formatDuration, formatTemp, formatTime } from '../../shared/units';
import { localDay, sayMoment } from '../look';
import { units } from '../shell/preferences';
import type { TimeWindow } from '../sync/contract';
import { t } from '../words';
import type { WhatIf, WhatIfAnswer } from './contract';
import { sayOdds } from './odds';

type BesideProps = { readonly job: JobView; readonly base: WhatIf; readonly answer: WhatIfAnswer; readonly now: Date; readonly old: boolean };

/** Before and after side by side, the effect in a sentence first. */
export function Beside({ job, base, answer, now, old }: BesideProps) {
  const zone = job.opened?.time_zone ?? 'UTC';
  const { before, after } = answer.pace;
  const numberOf = (id: string): number | string => base.loads.find((load) => load.id === id)?.number ?? '?';
  const range = (window: TimeWindow | null): string => {
    if (!window?.closes) return t('decide.noTexture');
    const [opens, closes] = [new Date(window.opens.likely), new Date(window.closes.likely)];
    const sameDay = localDay(opens, zone) === localDay(closes, zone);
    return t('decide.range', { opens: sayMoment(opens, now, zone), closes: sameDay ? formatTime(closes, zone) : sayMoment(closes, now, zone) });
  };
  return (
    <section class={`decide-beside${old ? ' decide-old' : ''}`} aria-labelledby="effect">
      <h2 id="effect">{effect(answer, numberOf)}</h2>
      {before && after && <p class="decide-time">{t('decide.oddsBeside', { before: sayOdds(before.chance_to_miss), after: sayOdds(after.chance_to_miss) })}</p>}
      <table class="decide-table">
        <thead><tr><th scope="col">{t('decide.textureOf')}</th><th scope="col">{t('decide.before')}</th><th scope="col">{t('decide.after')}</th></tr></thead>
        <tbody>
          {answer.loads.map((load) => {
            const was = base.loads.find(({ id }) => id === load.id)?.concrete_temp_c ?? load.concrete_temp_c;
            const cooler = Math.abs(was - load.concrete_temp_c) >= 0.5;
            return (
              <tr key={load.id}>
                <th scope="row">{t('layout.load', { number: numberOf(load.id) })}{cooler && <span class="soft decide-temps">{t('decide.temps', { was: formatTemp(was, units.value), now: formatTemp(load.concrete_temp_c, units.value) })}</span>}</th>
                <td>{range(load.windows.texture.before)}</td>
                <td>{range(load.windows.texture.after)}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </section>
  );
}

/** What moves most: the odds, else the close of a load; else that nothing much does. */
function effect({ loads, pace }: WhatIfAnswer, numberOf: (id: string) => number | string): string {
  const change = (pace.after?.chance_to_miss ?? 0) - (pace.before?.chance_to_miss ?? 0);
  const moved = loads.map((load) => ({ id: load.id, minutes: load.windows.texture.closes_later_minutes ?? 0 })).sort((a, b) => Math.abs(b.minutes) - Math.abs(a.minutes))[0];
  if (sayOdds(pace.after?.chance_to_miss ?? 0) !== sayOdds(pace.before?.chance_to_miss ?? 0)) return t(change < 0 ? 'decide.effect.better' : 'decide.effect.worse');
  if (!moved || Math.abs(moved.minutes) < 3) return t('decide.effect.none');
  return t(moved.minutes > 0 ? 'decide.effect.later' : 'decide.effect.sooner', { load: numberOf(moved.id), left: formatDuration(Math.abs(moved.minutes)) });
}
