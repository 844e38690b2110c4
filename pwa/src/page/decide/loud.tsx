import type { JobView } from '../../shared/job';
import { Notice, sayMoment } from '../look';
import type { Timeline, Warning } from '../sync/contract';
import { t } from '../words';
import { sayNotice, toneOf } from './notice';

const aheadMs = 18 * 3_600_000;

/** What threatens concrete that lies there, from the evening before to the hour it comes: on the screens where the work is. */
export function Loud({ job, timeline, now }: { readonly job: JobView; readonly timeline: Timeline | null | undefined; readonly now: Date }) {
  if (!timeline || job.closed) return null;
  const zone = job.opened?.time_zone ?? 'UTC';
  const numberOf = (load: string | null): number | string => job.loads.find(({ id }) => id === load)?.number ?? '?';
  return (
    <>
      {threats(timeline, now).map(([first, ...others]) => {
        const loads = [first, ...others].map(({ load }) => numberOf(load));
        const where = t('now.notice.loads', { count: loads.length, loads: loads.join(', ') });
        return (
          <Notice key={`${first.code}${first.from}`} tone="stop" title={t(`decide.loud.${first.code as LoudCode}`, { time: sayMoment(new Date(first.from), now, zone), where })}>
            <p>{sayNotice(first, now, zone)}</p>
          </Notice>
        );
      })}
    </>
  );
}

type LoudCode = 'rain_on_placed' | 'frost_on_placed' | 'drying_on_placed';
type Together = readonly [Warning, ...Warning[]];

/** The same threat at the same hour is told once for all its loads. */
export function threats(timeline: Pick<Timeline, 'warnings'>, now: Date): readonly Together[] {
  const at = now.getTime();
  const near = timeline.warnings.filter((warning) => toneOf(warning) === 'stop' && Date.parse(warning.to) > at && Date.parse(warning.from) < at + aheadMs);
  const found = new Map<string, [Warning, ...Warning[]]>();
  for (const warning of near) {
    const key = `${warning.code}/${warning.from}`;
    found.set(key, found.has(key) ? [...(found.get(key) ?? []), warning] as [Warning, ...Warning[]] : [warning]);
  }
  return [...found.values()];
}
