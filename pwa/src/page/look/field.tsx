import type { ComponentChildren } from 'preact';
import { useId, useLayoutEffect, useState } from 'preact/hooks';
import { useSettled } from './settled';
import './field.css';

export interface FieldProps {
  label: ComponentChildren;
  hint?: ComponentChildren;
  /** What is wrong and what to do, in words. */
  error?: string | null;
  children: ComponentChildren;
}

/** A label around one control, with its hint and its error. */
export function Field({ label, hint, error, children }: FieldProps) {
  return (
    <label class={`look-field${error ? ' look-field-wrong' : ''}`}>
      <span class="look-field-label">{label}</span>
      {children}
      {hint && <span class="look-field-hint">{hint}</span>}
      {error && (
        <span class="look-field-error" role="alert">
          {error}
        </span>
      )}
    </label>
  );
}

export interface TextFieldProps {
  label: string;
  value: string;
  /** Called when the person leaves the field or presses Enter, and only when the text changed. */
  onCommit: (value: string) => void;
  /** Called at each key, for searches. */
  onType?: (value: string) => void;
  hint?: string;
  error?: string | null;
  type?: 'text' | 'search' | 'date' | 'time' | 'datetime-local' | 'tel';
  lines?: number;
  maxLength?: number;
  autoComplete?: string;
  /** The keyboard to show: feet and inches need text. */
  inputMode?: 'text' | 'decimal' | 'numeric' | 'search';
}

/** One line of text (or several, with `lines`), kept until the person leaves the field. */
export function TextField(props: TextFieldProps) {
  const {
    label,
    value,
    onCommit,
    onType,
    hint,
    error: said,
    type = 'text',
    lines,
    maxLength,
    autoComplete,
    inputMode,
  } = props;
  const id = useId();
  const [draft, setDraft] = useState(value);
  // Before the next key, not after the next paint: what is typed meanwhile must not be wiped.
  useLayoutEffect(() => setDraft(value), [value]);
  // An error goes while it is being put right; whether it was shows when the field is left.
  const [mending, setMending] = useState(false);
  const error = useSettled(mending ? null : said);
  const commit = () => {
    setMending(false);
    if (draft !== value) onCommit(draft);
  };
  const shared = {
    id,
    class: 'look-input',
    value: draft,
    maxLength,
    autoComplete,
    inputMode,
    'aria-invalid': error ? true : undefined,
    'aria-describedby': hint || error ? `${id}-say` : undefined,
    onBlur: commit,
    onInput: (event: Event) => {
      const text = (event.currentTarget as HTMLInputElement).value;
      setDraft(text);
      setMending(true);
      onType?.(text);
    },
  };
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.key === 'Enter') commit();
  };
  return (
    <div class={`look-field${error ? ' look-field-wrong' : ''}`}>
      <label class="look-field-label" for={id}>
        {label}
      </label>
      {lines ? (
        <textarea {...shared} rows={lines} />
      ) : (
        <input {...shared} type={type as 'text'} onKeyDown={onKeyDown} />
      )}
      <span id={`${id}-say`} class="look-field-say">
        {hint && <span class="look-field-hint">{hint}</span>}
        {error && <span class="look-field-error">{error}</span>}
      </span>
    </div>
  );
}
