import { useId, useLayoutEffect, useState } from 'preact/hooks';
import { t } from '../words';
import { readNumber, stepTo, type NumberProblem } from './number';
import { useSettled } from './settled';
import './field.css';

export interface NumberFieldProps {
  label: string;
  /** In the unit shown; null when nothing has been entered. */
  value: number | null | undefined;
  unit?: string;
  /** Called when the person leaves the field, presses Enter or a step button, with a number inside the limits. */
  onCommit: (value: number) => void;
  /** Called when the field is emptied; without it an emptied field goes back to its last value. */
  onClear?: () => void;
  min?: number;
  max?: number;
  /** Gives the field a less and a more button. */
  step?: number;
  decimals?: number;
  hint?: string;
}

const show = (value: number | null | undefined, decimals: number) =>
  value == null ? '' : String(Number(value.toFixed(decimals)));

/** A number with its unit, two 48 px step buttons when a step is given, and its limits said in words. */
export function NumberField(props: NumberFieldProps) {
  const { label, value, unit, onCommit, onClear, min, max, step, decimals = 2, hint } = props;
  const id = useId();
  const [draft, setDraft] = useState(show(value, decimals));
  const [problem, setProblem] = useState<NumberProblem | null>(null);
  // Before the next key, not after the next paint: what is typed meanwhile must not be wiped.
  useLayoutEffect(() => {
    setDraft(show(value, decimals));
    setProblem(null);
  }, [value, decimals]);
  const take = (next: number) => {
    setProblem(null);
    setDraft(show(next, decimals));
    if (next !== value) onCommit(next);
  };
  const shown = useSettled(problem);
  const commit = () => {
    // What was only looked at stays as it is, also where it is shown rounded.
    if (draft === show(value, decimals)) return setProblem(null);
    const read = readNumber(draft, { min, max });
    if (read.problem) return setProblem(read.problem);
    if (read.value !== null) return take(read.value);
    setProblem(null);
    if (onClear && value != null) onClear();
    else setDraft(show(value, decimals));
  };
  const stepBy = (ways: 1 | -1) => take(stepTo(draft, value ?? null, ways * (step ?? 1), { min, max }));
  return (
    <div class={`look-field${shown ? ' look-field-wrong' : ''}`}>
      <label class="look-field-label" for={id}>
        {label}
      </label>
      <span class="look-number">
        {step !== undefined && (
          <StepButton sign="−" name={t('look.less', { label })} onPress={() => stepBy(-1)} />
        )}
        <input
          id={id}
          class="look-input time"
          type="text"
          inputMode="decimal"
          autoComplete="off"
          value={draft}
          aria-invalid={shown ? true : undefined}
          aria-describedby={`${id}-say`}
          onInput={(event) => {
            setDraft(event.currentTarget.value);
            setProblem(null);
          }}
          onBlur={commit}
          onKeyDown={(event) => event.key === 'Enter' && commit()}
        />
        {unit && <span class="look-number-unit">{unit}</span>}
        {step !== undefined && (
          <StepButton sign="+" name={t('look.more', { label })} onPress={() => stepBy(1)} />
        )}
      </span>
      <span id={`${id}-say`} class="look-field-say">
        {hint && <span class="look-field-hint">{hint}</span>}
        {shown && <span class="look-field-error">{problemWords(shown, min, max)}</span>}
      </span>
    </div>
  );
}

function StepButton({ sign, name, onPress }: { sign: string; name: string; onPress: () => void }) {
  return (
    <button type="button" class="look-step" aria-label={name} onClick={onPress}>
      {sign}
    </button>
  );
}

function problemWords(problem: NumberProblem, min?: number, max?: number): string {
  if (problem === 'not_a_number') return t('look.number.not');
  if (min !== undefined && max !== undefined) return t('look.number.between', { min, max });
  return problem === 'too_low'
    ? t('look.number.least', { min: min ?? 0 })
    : t('look.number.most', { max: max ?? 0 });
}
