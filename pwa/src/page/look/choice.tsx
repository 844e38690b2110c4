import { useId } from 'preact/hooks';
import './choice.css';

export interface ChoiceOption<T extends string> {
  value: T;
  label: string;
  hint?: string;
}

export interface ChoiceProps<T extends string> {
  label: string;
  options: readonly ChoiceOption<T>[];
  value: T | null | undefined;
  onPick: (value: T) => void;
  /** Hide the label from sight when the heading above already says it. */
  quietLabel?: boolean;
}

/** Pick one of a few: each option is a target of its own; the picked one carries a mark as well as a fill. */
export function Choice<T extends string>({ label, options, value, onPick, quietLabel }: ChoiceProps<T>) {
  const name = useId();
  return (
    <fieldset class="look-choice">
      <legend class={quietLabel ? 'visually-hidden' : 'look-choice-label'}>{label}</legend>
      <div class="look-choice-options">
        {options.map((option) => (
          <label key={option.value} class="look-choice-option">
            <input
              type="radio"
              name={name}
              checked={option.value === value}
              onChange={() => onPick(option.value)}
            />
            <span class="look-choice-words">
              {option.label}
              {option.hint && <span class="look-choice-hint">{option.hint}</span>}
            </span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}
