import { formatArea, formatVolume, squareMetresPerFoot } from '../../../shared/units';
import { units } from '../../shell/preferences';
import { t } from '../../words';
import type { CalledBack, FactorPoint, MixHistory, PaceSeen, Waste } from './contract';
import { Numbers, Part } from './part';
import { sayCallbacks, sayCrewPace, sayDate, sayKnown, sayPace, sayWaste, sayWhat } from './say';
import { SeriesPlot } from './series-plot';

/** The 10 and 90 % points of a normal, in standard deviations. */
const reach80 = 1.2816;
const percentOf = (value: number): string => `${value > 0 ? '+' : ''}${value} %`.replace('-', '−');
const endsOf = (points: readonly { readonly day: string }[]): readonly [string, string] => [sayDate(points[0]?.day ?? ''), sayDate(points.at(-1)?.day ?? '')];

/** The set factor of each mix through time, pour by pour, and what each left known for the next. */
export function FactorPart({ mixes }: { readonly mixes: readonly MixHistory[] }) {
  if (mixes.length === 0) return <Part title={t('lookback.factor')} finding={t('lookback.factor.none')} />;
  return (
    <>
      {mixes.map((mix) => <OneMix key={`${mix.mix}/${mix.plant}`} mix={mix} />)}
    </>
  );
}

function OneMix({ mix: { mix, plant, known, points } }: { readonly mix: MixHistory }) {
  const name = plant ? t('lookback.factor.of', { mix, plant }) : mix;
  const finding = known ? sayKnown(plant ? 'plant' : 'mix', known) : t('lookback.taught.nothing');
  return (
    <Part title={`${t('lookback.factor')}: ${name}`} finding={finding}>
      <SeriesPlot points={points.map(asSeries)} ends={endsOf(points)} level={{ value: 0, name: t('lookback.book') }} last={known ? t('lookback.next', { percent: percentOf(Math.round(known.percent)) }) : undefined} say={percentOf} finding={finding} />
      <p class="soft">{t('lookback.factor.how')}</p>
      <Numbers
        caption={name}
        points={points}
        columns={[
          { name: t('lookback.col.told'), cell: (point) => (point.aside ? `${sayPace(point.percent)}, ${t('lookback.aside')}` : sayPace(point.percent)) },
          { name: t('lookback.col.after'), cell: ({ after }) => (after ? `${sayPace(after.percent)} ${t('lookback.doubt', { doubt: Math.round(after.doubt_percent) })}` : '') },
        ]}
      />
    </Part>
  );
}

function asSeries(point: FactorPoint) {
  const { after } = point;
  return {
    key: point.job,
    value: point.percent,
    low: point.low_percent,
    high: point.high_percent,
    open: point.aside ? t('lookback.aside') : undefined,
    band: after && { value: after.percent, reach: reach80 * after.doubt_percent },
    title: `${point.name}, ${sayDate(point.day)}: ${sayPace(point.percent)}`,
  };
}

/** Area per person and hour, job after job. */
export function PacePart({ pace }: { readonly pace: PaceSeen }) {
  const finding = sayCrewPace(pace);
  const middle = pace.m2_per_person_hour;
  if (middle === null) return <Part title={t('lookback.pace')} finding={finding} />;
  const shown = (m2: number): number => (units.value === 'us' ? m2 / squareMetresPerFoot : m2);
  const unit = units.value === 'us' ? 'ft²' : 'm²';
  const points = pace.points.map((point) => ({ key: point.job, value: shown(point.m2_per_person_hour), title: `${point.name}: ${rateOf(point.m2_per_person_hour)}` }));
  return (
    <Part title={t('lookback.pace')} finding={finding}>
      <SeriesPlot points={points} ends={endsOf(pace.points)} level={{ value: shown(middle), name: t('lookback.middle') }} say={(value) => `${value} ${unit}`} finding={finding} />
      <Numbers
        caption={t('lookback.pace')}
        points={pace.points}
        columns={[
          { name: t('lookback.col.people'), cell: ({ people }) => people },
          { name: t('lookback.col.rate'), cell: (point) => formatArea(point.m2_per_person_hour, units.value) },
          { name: t('lookback.col.lay'), cell: ({ lay_minutes }) => lay_minutes?.toFixed(1) ?? '' },
          { name: t('lookback.col.entered'), cell: ({ lay_minutes_entered }) => lay_minutes_entered?.toFixed(1) ?? '' },
        ]}
      />
    </Part>
  );
}

const rateOf = (m2: number): string => t('lookback.per_person', { area: formatArea(m2, units.value) });

/** What people called back about: a bar each, named and counted on the bar. */
export function CallbacksPart({ seen }: { readonly seen: CalledBack }) {
  const most = Math.max(1, ...seen.by_what.map(({ count }) => count));
  return (
    <Part title={t('lookback.callbacks')} finding={sayCallbacks(seen)}>
      {seen.by_what.length > 0 && (
        <ul class="bare back-bars">
          {seen.by_what.map(({ what, count, per_100 }) => (
            <li key={what}>
              <span>{sayWhat(what)}: <strong>{seen.few ? count : t('lookback.callbacks.one', { count, per: per_100 })}</strong></span>
              <span class="back-bar" style={{ width: `${(100 * count) / most}%` }} aria-hidden="true" />
            </li>
          ))}
        </ul>
      )}
    </Part>
  );
}

/** What was ordered over the slab as drawn, job after job. */
export function WastePart({ waste }: { readonly waste: Waste }) {
  const finding = sayWaste(waste);
  if (waste.points.length === 0) return <Part title={t('lookback.waste')} finding={finding} />;
  const points = waste.points.map((point) => ({ key: point.job, value: point.over_percent, title: `${point.name}: ${percentOf(point.over_percent)}` }));
  const volume = (m3: number): string => formatVolume(m3, units.value);
  return (
    <Part title={t('lookback.waste')} finding={finding}>
      <SeriesPlot points={points} ends={endsOf(waste.points)} level={{ value: 0, name: t('lookback.even') }} say={percentOf} finding={finding} />
      <Numbers
        caption={t('lookback.waste')}
        points={waste.points}
        columns={[
          { name: t('lookback.col.ordered'), cell: (point) => volume(point.ordered_m3) },
          { name: t('lookback.col.placed'), cell: (point) => volume(point.placed_m3) },
          { name: t('lookback.col.slab'), cell: (point) => volume(point.slab_m3) },
          { name: t('lookback.col.over'), cell: (point) => percentOf(point.over_percent) },
        ]}
      />
    </Part>
  );
}
