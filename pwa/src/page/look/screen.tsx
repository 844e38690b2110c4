import type { ComponentChildren } from 'preact';
import { t } from '../words';
import './screen.css';

export interface ScreenProps {
  title: string;
  /** Where "Back" leads (a route of this app). */
  back?: string;
  /** One line under the title: the job's name, a date. */
  under?: ComponentChildren;
  children: ComponentChildren;
  /** Main actions, kept in reach of the thumb at the bottom. */
  footer?: ComponentChildren;
  /** Keep title and `under` to one line on a phone, where `under` gives way. */
  tight?: boolean;
  /** Let the screen use the whole width of a desk. */
  wide?: boolean;
}

/** One screen inside the shell's `<main>`: its heading, its body and its main actions. */
export function Screen({ title, back, under, children, footer, tight, wide }: ScreenProps) {
  return (
    <section class={`look-screen${wide ? ' look-screen-wide' : ''}`} aria-label={title}>
      <header class={`look-screen-head${tight ? ' look-screen-tight' : ''}`}>
        {back && (
          <a class="look-back" href={back}>
            <span aria-hidden="true">←</span> {t('look.back')}
          </a>
        )}
        <h1 tabIndex={-1} data-screen-title>
          {title}
        </h1>
        {under && <p class="soft">{under}</p>}
      </header>
      <div class="look-screen-body">{children}</div>
      {footer && <div class="look-screen-foot actions">{footer}</div>}
    </section>
  );
}

export interface EmptyProps {
  title: string;
  children?: ComponentChildren;
  action?: ComponentChildren;
}

/** Nothing here yet: why, and what to do first. */
export function Empty({ title, children, action }: EmptyProps) {
  return (
    <div class="look-empty">
      <svg class="look-empty-mark" viewBox="0 0 96 36" width="96" height="36" aria-hidden="true">
        <path d="M2 34V28C34 28 40 4 94 3V34Z" fill="none" stroke="currentColor" stroke-width="2.5" />
        <path d="M38 34V22C46 16 52 11 62 8V34Z" fill="currentColor" />
      </svg>
      <h2>{title}</h2>
      {children && <div class="look-empty-words">{children}</div>}
      {action && <div class="actions">{action}</div>}
    </div>
  );
}

export interface ProgressProps {
  done: number;
  total: number;
  label: string;
  /** A share: said as "41 %", with `total` 100. */
  percent?: boolean;
}

/** How much of a countable thing is done, as words first and a bar after. */
export function Progress({ done, total, label, percent }: ProgressProps) {
  const words = percent ? `${done}\u00a0%` : t('look.progress', { done, total });
  return (
    <div class="look-progress">
      <span class="look-progress-label">{label}</span>
      <span class="time">{words}</span>
      <progress max={Math.max(total, 1)} value={done} aria-label={`${label}: ${words}`} />
    </div>
  );
}
