import { useId } from 'preact/hooks';
import { t } from '../../words';
import { Axis } from './Axis';
import { sayRow, sayState, sayTime } from './say';
import {
  bandPath,
  isInside,
  placeTime,
  readCurve,
  windowParts,
  windowReach,
  type LevelPoint,
  type Span,
} from './state';
import { StateMark, TidePatterns } from './patterns';
import { TideTable } from './TideTable';
import { useWidth } from './useWidth';
import { stateWord, type WorkWindow } from './window';
import './tide.css';

export interface TideRow {
  id: string;
  /** Whose concrete and which work: "Load 2, edge". */
  label: string;
  /** Null when the engine finds no window; the row then says so. */
  window: WorkWindow | null;
  /** How firm it is, 0 to 1 (see `penetrationLevel`, `strengthLevel`). */
  curve: readonly LevelPoint[];
}

export interface TideStripProps {
  rows: readonly TideRow[];
  from: Date;
  to: Date;
  now: Date;
  timeZone: string;
  /** What the strip shows, for its spoken name. */
  title?: string;
}

const BAND_PX = 44;

/** The hours of each load as bands that rise as the concrete firms; the window is the filled part, its edges soft from the 10 to the 90 % times. */
export function TideStrip({ rows, from, to, now, timeZone, title }: TideStripProps) {
  const [chart, width] = useWidth<HTMLDivElement>(320);
  const id = useId();
  const span = { from: from.getTime(), to: to.getTime() };
  return (
    <figure class="tide" aria-label={title ?? t('look.tide.name')}>
      {rows.map((row) => (
        <div key={row.id} class="tide-row">
          <TideWords row={row} now={now} timeZone={timeZone} />
          <Band id={`${id}-${row.id}`} row={row} span={span} now={now} width={width} timeZone={timeZone} />
        </div>
      ))}
      <div class="tide-row">
        <span />
        <div ref={chart}>
          <Axis span={span} now={now} width={width} timeZone={timeZone} />
        </div>
      </div>
      <TideTable rows={rows} now={now} timeZone={timeZone} />
    </figure>
  );
}

function TideWords({ row, now, timeZone }: { row: TideRow; now: Date; timeZone: string }) {
  if (!row.window) {
    return (
      <p class="tide-words">
        <strong>{row.label}</strong> <span>{t('look.tide.none')}</span>
      </p>
    );
  }
  const state = stateWord(now, row.window);
  return (
    <p class="tide-words">
      <strong>{row.label}</strong>
      <span class={`tide-state tide-state-${state}`}>
        <StateMark state={state} /> {sayState(state)}
      </span>
      <span class="tide-time">{sayTime(now, row.window, timeZone)}</span>
    </p>
  );
}

interface BandProps {
  id: string;
  row: TideRow;
  span: Span;
  now: Date;
  width: number;
  timeZone: string;
}

function Band({ id, row, span, now, width, timeZone }: BandProps) {
  const curve = readCurve(row.curve);
  const draw = (part: Span) => bandPath(curve, part, span, width, BAND_PX);
  const parts = row.window ? windowParts(row.window, span.to) : [];
  const reach = windowReach(parts);
  const fills = { maybe: `url(#${id}-maybe)`, likely: `url(#${id}-likely)`, sure: 'currentColor' };
  const nowX = placeTime(now.getTime(), span, width);
  return (
    <svg
      class="tide-band"
      viewBox={`0 0 ${width} ${BAND_PX}`}
      role="img"
      aria-label={sayRow(row.label, now, row.window, timeZone)}
    >
      <TidePatterns id={id} />
      <path d={draw({ from: span.from, to: reach?.from ?? span.to })} fill={`url(#${id}-soft)`} />
      {reach && <path d={draw({ from: reach.to, to: span.to })} fill={`url(#${id}-past)`} />}
      {parts.map((part) => (
        <path key={part.from} d={draw(part)} fill={fills[part.sureness]} />
      ))}
      <path d={draw(span)} class="tide-outline" />
      {isInside(now, span) && <path d={`M${nowX} 0V${BAND_PX}`} class="tide-now" />}
    </svg>
  );
}
