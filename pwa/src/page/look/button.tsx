import type { ComponentChildren } from 'preact';
import './button.css';

export interface ButtonProps {
  /** main: the one thing to do here; plain: other actions; quiet: rarely used; danger: removes or gives up something. */
  kind?: 'main' | 'plain' | 'quiet' | 'danger';
  onPress: () => void;
  children: ComponentChildren;
  wide?: boolean;
  disabled?: boolean;
  /** Spoken name when the visible words alone are not enough ("Undo" → "Undo: forms checked"). */
  label?: string;
  /** For a button that opens something on this page. */
  expanded?: boolean;
  /** For a button that brings up a sheet over the page. */
  opensSheet?: boolean;
  submit?: boolean;
}

/** A button at least 48 px high; main ones 56 px, for gloves. */
export function Button({
  kind = 'plain',
  onPress,
  children,
  wide,
  disabled,
  label,
  expanded,
  opensSheet,
  submit,
}: ButtonProps) {
  return (
    <button
      type={submit ? 'submit' : 'button'}
      class={`look-button look-button-${kind}${wide ? ' look-button-wide' : ''}`}
      onClick={onPress}
      disabled={disabled}
      aria-label={label}
      aria-expanded={expanded}
      aria-haspopup={opensSheet ? 'dialog' : undefined}
    >
      {children}
    </button>
  );
}

export interface LinkButtonProps {
  kind?: 'main' | 'plain' | 'quiet';
  /** A route of this app (`#/now`) or an address. */
  href: string;
  children: ComponentChildren;
  wide?: boolean;
}

/** A link that has the size and look of a button. */
export function LinkButton({ kind = 'plain', href, children, wide }: LinkButtonProps) {
  return (
    <a class={`look-button look-button-${kind}${wide ? ' look-button-wide' : ''}`} href={href}>
      {children}
    </a>
  );
}
