import { formatTime } from '../../../shared/units';
import { t } from '../../words';
import { sayWeekday } from './moment';
import { hourTicks, isInside, labelPlaces, placeTime, type Span, type Tick } from './state';

export const AXIS_PX = 26;
const LABEL_PX = 44;

interface AxisProps {
  span: Span;
  now: Date;
  width: number;
  timeZone: string;
}

/** The hours under the bands, in the job's own time; midnight carries the day's name, "now" its word. */
export function Axis({ span, now, width, timeZone }: AxisProps) {
  const here = isInside(now, span);
  const nowX = placeTime(now.getTime(), span, width);
  const nowLabelX = Math.min(width - LABEL_PX / 2, Math.max(LABEL_PX / 2, nowX));
  const ticks = hourTicks(span, width, timeZone);
  return (
    <svg class="tide-axis" viewBox={`0 0 ${width} ${AXIS_PX}`} aria-hidden="true">
      <path d={`M0 1H${width}${ticks.map((tick) => `M${tick.x} 0v7`).join('')}`} class="tide-outline" />
      {labelPlaces(ticks, width, here ? nowLabelX : null, LABEL_PX).map((tick) => (
        <text key={tick.at} x={tick.x} y="22" class={`tide-hour${tick.hour === 0 ? ' tide-hour-day' : ''}`}>
          {sayTick(tick, timeZone)}
        </text>
      ))}
      {here && <path d={`M${nowX} 0v9`} class="tide-now" />}
      {here && (
        <text x={nowLabelX} y="22" class="tide-hour tide-hour-now">
          {t('look.tide.now')}
        </text>
      )}
    </svg>
  );
}

/** "7 am"; at midnight the day that begins: "Tue". Whole hours need no minutes. */
function sayTick(tick: Tick, timeZone: string): string {
  const moment = new Date(tick.at);
  return tick.hour === 0 ? sayWeekday(moment, timeZone) : formatTime(moment, timeZone).replace(':00', '');
}
