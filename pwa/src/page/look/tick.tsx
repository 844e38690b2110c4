import type { ComponentChildren } from 'preact';
import { useRef } from 'preact/hooks';
import { t } from '../words';
import './tick.css';

/** A second touch this soon after the first is a wet glove, not a change of mind. */
const SETTLE_MS = 600;

export interface TickProps {
  label: ComponentChildren;
  done: boolean;
  /** Name of who ticked it, and the time as text, already formatted for the job's time zone. */
  by?: string | null;
  at?: string | null;
  onTick: () => void;
  onUndo: () => void;
  /** A measurement that goes with the item, shown under the row. */
  measure?: ComponentChildren;
  note?: ComponentChildren;
}

/** One line of a checklist: the whole row is the target, one touch ticks it, one touch takes it back. */
export function Tick({ label, done, by, at, onTick, onUndo, measure, note }: TickProps) {
  const touched = useRef(-Infinity);
  const press = () => {
    const moment = performance.now();
    if (moment - touched.current < SETTLE_MS) return;
    touched.current = moment;
    if (done) onUndo();
    else onTick();
  };
  const who = [by, at].filter(Boolean).join(', ');
  return (
    <div class={`look-tick${done ? ' look-tick-done' : ''}`}>
      <button type="button" role="checkbox" aria-checked={done} class="look-tick-row" onClick={press}>
        <span class="look-tick-box" aria-hidden="true">
          <svg viewBox="0 0 24 24" width="24" height="24">
            {done && <path d="M4 13l5.5 5.5L20 6" fill="none" stroke="currentColor" stroke-width="3.5" />}
          </svg>
        </span>
        <span class="look-tick-words">
          <span class="look-tick-label">{label}</span>
          {note && <span class="look-tick-note">{note}</span>}
          {done && who && <span class="look-tick-note time">{who}</span>}
        </span>
        {done && <span class="look-tick-undo">{t('look.undo')}</span>}
      </button>
      {measure && <div class="look-tick-measure">{measure}</div>}
    </div>
  );
}
