import { t } from '../../words';
import type { GroupStat, Measured, MeasureName, Stat } from './contract';
import { Numbers, Part, Table, type Column } from './part';
import { sayFew, sayMeasured, sayMonth, sayOff, saySigned } from './say';
import { StripPlot } from './strip-plot';

/** Predicted against kept for one edge: the plot, then all together, by mix, by plant and by month. */
export function KeptPart({ name, measured }: { readonly name: MeasureName; readonly measured: Measured }) {
  const finding = sayMeasured(name, measured);
  const title = t(`lookback.${name}`);
  if (measured.points.length === 0) return <Part title={title} finding={finding} />;
  return (
    <Part title={title} finding={finding}>
      <StripPlot points={measured.points} all={measured.all} finding={finding} />
      <p class="soft">{t('lookback.kept.how')}</p>
      <Table caption={title} columns={columnsFor(name)} rows={groupsOf(measured)} />
      <Numbers
        caption={title}
        points={measured.points}
        columns={[
          { name: t('lookback.col.load'), cell: ({ load }) => load },
          { name: t('lookback.col.error'), cell: ({ error_min }) => sayOff(error_min) },
        ]}
      />
      {measured.points.some(({ afterwards }) => afterwards) && <p class="soft">{t('lookback.afterwards')}</p>}
    </Part>
  );
}

/** A single mix, plant or month says no more than all together. */
function groupsOf({ all, by_mix, by_plant, by_month }: Measured): readonly GroupStat[] {
  const several = (groups: readonly GroupStat[]): readonly GroupStat[] => (groups.length > 1 ? groups : []);
  const months = several(by_month).map((group) => ({ ...group, name: sayMonth(group.name) }));
  return [{ name: t('lookback.col.all'), ...all }, ...several(by_mix), ...several(by_plant), ...months];
}

function columnsFor(name: MeasureName): readonly Column<GroupStat>[] {
  const closes = name === 'texture_closes';
  return [
    { name: t('lookback.col.group'), cell: (row) => <>{row.name} <span class="back-count">{row.few ? sayFew(row) : t('lookback.pours', { pours: row.pours })}</span></> },
    { name: t('lookback.col.middle'), cell: (row) => (row.few || row.median_min === null ? '' : saySigned(row.median_min)) },
    { name: t('lookback.col.most'), cell: mostOf },
    { name: t(closes ? 'lookback.col.in_time' : 'lookback.col.inside'), cell: (row) => shareOf(row, closes ? row.in_time : row.inside) },
  ];
}

const shareOf = (row: Stat, count: number): string => (row.few ? '' : t('lookback.of', { count, all: row.values }));

function mostOf({ few, low_min, high_min }: Stat): string {
  if (few || low_min === null || high_min === null) return '';
  return t('lookback.to_range', { low: saySigned(low_min), high: saySigned(high_min) }).replaceAll(' ', '\u00a0');
}
