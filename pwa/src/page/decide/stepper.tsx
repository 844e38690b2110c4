import { t } from '../words';
import './style.css';

type StepperProps = {
  readonly label: string;
  readonly value: string;
  readonly note?: string | undefined;
  readonly onLess: (() => void) | null;
  readonly onMore: (() => void) | null;
};

/** A value with a less and a more key, each large enough for a thumb in a glove. */
export function Stepper({ label, value, note, onLess, onMore }: StepperProps) {
  return (
    <div class="decide-stepper" role="group" aria-label={label}>
      <span class="decide-stepper-label">{label}{note && <span class="soft"> {note}</span>}</span>
      <button type="button" class="decide-key" aria-label={t('look.less', { label })} disabled={!onLess} onClick={() => onLess?.()}>−</button>
      <output class="time" aria-live="polite">{value}</output>
      <button type="button" class="decide-key" aria-label={t('look.more', { label })} disabled={!onMore} onClick={() => onMore?.()}>+</button>
    </div>
  );
}
