import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import './bar.css';

export interface BarProps {
  /** due: wants doing; stop: can't wait. Carried by the edge's pattern and by words too. */
  tone?: 'plain' | 'due' | 'stop';
  /** What it is about, for those who can't see where it stands. */
  name?: string;
  /** All that is said before it is touched: two short lines at most, in the height of one target. */
  line: ComponentChildren;
  /** How many more wait behind the line. */
  more?: number;
  /** The one thing to do about it, in reach without opening. */
  action?: ComponentChildren;
  /** The rest, behind a touch. */
  children: ComponentChildren;
  /** Open from the start: for what may cost work. */
  opened?: boolean;
  /** Say it aloud as soon as it appears. */
  announce?: boolean;
}

/** One line over any screen, so that the work stays on the screen; a touch opens the rest. */
export function Bar({ tone = 'plain', name, line, more = 0, action, children, opened = false, announce }: BarProps) {
  const [open, setOpen] = useState(opened);
  return (
    <section class={`look-bar look-bar-${tone}`} aria-label={name} role={announce ? 'alert' : undefined}>
      <div class="look-bar-line">
        <button type="button" class="look-bar-words" aria-expanded={open} onClick={() => setOpen(!open)}>
          <span class="look-bar-text">{line}</span>
          {more > 0 && <span class="look-bar-more">+{more}</span>}
          <span class="look-bar-mark" aria-hidden="true">{open ? '▴' : '▾'}</span>
        </button>
        {action}
      </div>
      {open && <div class="look-bar-body">{children}</div>}
    </section>
  );
}
