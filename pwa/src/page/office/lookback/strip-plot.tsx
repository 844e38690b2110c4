import { t } from '../../words';
import type { ErrorPoint, Stat } from './contract';
import { sayOff, saySigned } from './say';
import { marksFor, rangeOf, shareOf, stack, type Range } from './scale';

const top = 40;
const dot = 6;
const foot = 26;
const leastHigh = 28;
/** Of the width; dots nearer than this stand on each other. */
const apart = 0.02;
const edge = 3;

const across = (share: number): string => `${edge + share * (100 - 2 * edge)}%`;

type StripProps = { readonly points: readonly ErrorPoint[]; readonly all: Stat; readonly finding: string };

/** Each load's minutes off what was told, on one line: told in the middle, sooner left, later right. */
export function StripPlot({ points, all, finding }: StripProps) {
  const marks = marksFor(points.map((point) => point.error_min));
  const range = rangeOf(marks);
  const dots = stack(points, (point) => point.error_min, range, apart);
  const levels = Math.max(...dots.map(({ level }) => level)) + 1;
  const base = top + Math.max(leastHigh, levels * 2 * dot) + dot;
  return (
    <svg class="back-plot" width="100%" height={base + foot} role="img" aria-label={finding}>
      <Axis marks={marks} range={range} base={base} />
      {!all.few && all.median_min !== null && <Middle minutes={all.median_min} range={range} base={base} />}
      {dots.map(({ item, share, level }) => (
        <circle key={`${item.job}/${item.load}`} class={item.inside ? 'back-dot' : 'back-dot back-dot-open'} cx={across(share)} cy={base - dot - 2 - level * 2 * dot} r={dot - 1}>
          <title>{`${item.name}: ${sayOff(item.error_min)}`}</title>
        </circle>
      ))}
    </svg>
  );
}

function Axis({ marks, range, base }: { readonly marks: readonly number[]; readonly range: Range; readonly base: number }) {
  const zero = shareOf(0, range);
  return (
    <>
      <line class="back-axis" x1="0" x2="100%" y1={base} y2={base} />
      <line class="back-zero" x1={across(zero)} x2={across(zero)} y1={top - 8} y2={base} />
      <text class="back-label" x={across(zero)} y={top - 14} text-anchor={anchorAt(zero)}>{t('lookback.as_told')}</text>
      {zero > 0.3 && <text class="back-label back-soft" x="0" y={12}>{t('lookback.sooner')}</text>}
      {zero < 0.7 && <text class="back-label back-soft" x="100%" y={12} text-anchor="end">{t('lookback.later')}</text>}
      {marks.map((mark) => (
        <g key={mark}>
          <line class="back-axis" x1={across(shareOf(mark, range))} x2={across(shareOf(mark, range))} y1={base} y2={base + 4} />
          <text class="back-label" x={across(shareOf(mark, range))} y={base + 19} text-anchor={anchorAt(shareOf(mark, range))}>{saySigned(mark)}</text>
        </g>
      ))}
    </>
  );
}

/** The middle of all loads, named where it stands. */
function Middle({ minutes, range, base }: { readonly minutes: number; readonly range: Range; readonly base: number }) {
  const share = shareOf(minutes, range);
  return (
    <>
      <line class="back-middle" x1={across(share)} x2={across(share)} y1={top} y2={base} />
      <text class="back-label back-strong" x={across(share)} y={12} text-anchor={anchorAt(share)}>{t('lookback.middle')}</text>
    </>
  );
}

/** Near a side the words lean inwards. */
export function anchorAt(share: number): 'start' | 'middle' | 'end' {
  if (share < 0.12) return 'start';
  return share > 0.88 ? 'end' : 'middle';
}
