import { marksFor, rangeOf, shareOf } from './scale';

const high = 180;
const foot = 24;
const head = 18;
/** Marks nearer than this to the level's name give way to it. */
const nameHigh = 15;
/** Room for the marks on the left and for the line's name on the right, in percent of the width. */
const left = 17;
const right = 6;

export type SeriesPoint = {
  readonly key: string;
  readonly value: number;
  readonly low?: number;
  readonly high?: number;
  /** Does not count: drawn open, and named. */
  readonly open?: string | undefined;
  /** What was known from here on: middle and reach to either side. */
  readonly band?: { readonly value: number; readonly reach: number } | null;
  readonly title: string;
};
type SeriesProps = {
  readonly points: readonly SeriesPoint[];
  /** In order of time: what stands under the first and the last. */
  readonly ends: readonly [string, string];
  readonly level: { readonly value: number; readonly name: string };
  readonly last?: string | undefined;
  readonly say: (value: number) => string;
  readonly finding: string;
};

/** Jobs one after another: a dot each, with its band where it has one, and a level to hold them against. */
export function SeriesPlot({ points, ends, level, last, say, finding }: SeriesProps) {
  const values = points.flatMap((point) => [point.value, point.low ?? point.value, point.high ?? point.value, ...bandEnds(point)]);
  const marks = marksFor([...values, level.value], 4);
  const range = rangeOf(marks);
  const down = (value: number): number => head + (1 - shareOf(value, range)) * high;
  const slot = (100 - left - right) / points.length;
  const at = (n: number): string => `${left + (n + 0.5) * slot}%`;
  const base = head + high;
  const lastBand = points.findLast(({ band }) => band)?.band;
  return (
    <svg class="back-plot" width="100%" height={base + foot} role="img" aria-label={finding}>
      {marks.map((mark) => (
        <g key={mark}>
          <line class="back-grid" x1={`${left}%`} x2="100%" y1={down(mark)} y2={down(mark)} />
          {Math.abs(down(mark) - down(level.value)) >= nameHigh && <text class="back-label" x={`${left - 1.5}%`} y={down(mark) + 4} text-anchor="end">{say(mark)}</text>}
        </g>
      ))}
      {points.map(({ key, band }, n) => band && (
        <rect key={key} class="back-band" x={at(n)} width={`${n === points.length - 1 ? slot / 2 + right : slot}%`} y={down(band.value + band.reach)} height={Math.max(1, down(band.value - band.reach) - down(band.value + band.reach))} />
      ))}
      <line class="back-zero" x1={`${left}%`} x2="100%" y1={down(level.value)} y2={down(level.value)} />
      <text class="back-label back-strong" x={`${left - 1.5}%`} y={down(level.value) + 4} text-anchor="end">{level.name}</text>
      {points.map((point, n) => <SeriesDot key={point.key} point={point} x={at(n)} down={down} />)}
      {last && lastBand && <text class="back-label back-strong back-on" x="100%" y={Math.max(12, down(lastBand.value + lastBand.reach) - 5)} text-anchor="end">{last}</text>}
      <text class="back-label" x={`${left}%`} y={base + 18}>{ends[0]}</text>
      {points.length > 1 && <text class="back-label" x="100%" y={base + 18} text-anchor="end">{ends[1]}</text>}
    </svg>
  );
}

function SeriesDot({ point, x, down }: { readonly point: SeriesPoint; readonly x: string; readonly down: (value: number) => number }) {
  return (
    <g>
      {point.low !== undefined && point.high !== undefined && <line class="back-reach" x1={x} x2={x} y1={down(point.low)} y2={down(point.high)} />}
      <circle class={point.open ? 'back-dot back-dot-open' : 'back-dot'} cx={x} cy={down(point.value)} r={5}>
        <title>{point.title}</title>
      </circle>
      {point.open && <text class="back-label back-on" x={x} y={down(point.value) - 9} text-anchor="middle">{point.open}</text>}
    </g>
  );
}

const bandEnds = ({ band }: SeriesPoint): readonly number[] => (band ? [band.value - band.reach, band.value + band.reach] : []);
