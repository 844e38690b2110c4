import type { ComponentChildren } from 'preact';
import { t } from '../words';
import './notice.css';

export interface NoticeProps {
  tone?: 'plain' | 'warn' | 'stop';
  title: ComponentChildren;
  children?: ComponentChildren;
  /** Say it aloud as soon as it appears. Only for what just happened. */
  announce?: boolean;
}

/** Something to know. The tone is carried by a word, an edge pattern and a colour, never the colour alone. */
export function Notice({ tone = 'plain', title, children, announce }: NoticeProps) {
  return (
    <div class={`look-notice look-notice-${tone}`} role={announce ? 'alert' : undefined}>
      <p class="look-notice-title">
        {tone !== 'plain' && <span class="look-notice-word">{t(`look.tone.${tone}`)}</span>} {title}
      </p>
      {children && <div class="look-notice-body">{children}</div>}
    </div>
  );
}

export type CareWhat = 'wet_concrete' | 'silica' | 'solvent' | 'run_off' | 'heat' | 'saw' | 'release_dust';

/** The usual caution, shown where the work is done. It never replaces local rules. */
export function Care({ what }: { what: CareWhat }) {
  return (
    <div class="look-care" role="note">
      <p class="look-care-title">{t(`look.care.${what}.title`)}</p>
      <p>{t(`look.care.${what}.words`)}</p>
      <p class="soft">{t('look.care.local')}</p>
    </div>
  );
}
