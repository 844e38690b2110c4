import { NumberField } from '../look'
import { useSettled } from '../look/settled'
import { readNumber } from '../look/number'
import { units } from '../shell/preferences'
import { rounded, shownAs, toShown, toSi, type Quantity } from './quantity'

export interface QuantityFieldProps {
  readonly label: string
  readonly quantity: Quantity
  /** SI. */
  readonly value: number | null | undefined
  readonly onCommit: (value: number | null) => void
  /** Limits in SI; leave them out where the screen refuses in its own words. */
  readonly min?: number
  readonly max?: number
  readonly hint?: string
  /** What is wrong with what was entered, in words. */
  readonly refusal?: string | null
  /** True but worth knowing. */
  readonly remark?: string | null
  readonly steps?: boolean
}

/** A number typed in the person's units and kept in SI. */
export function QuantityField({ label, quantity, value, onCommit, min, max, hint, refusal, remark, steps = true }: QuantityFieldProps) {
  const shown = shownAs(quantity, units.value)
  const worth = useSettled(remark)
  const limit = (si: number | undefined): number | undefined => (si === undefined ? undefined : Number(toShown(si, shown).toFixed(shown.decimals)))
  // A refusal goes as soon as the entry is put right, not when the field is left: that would move the button just touched.
  const mend = (event: Event): void => {
    const read = readNumber((event.target as HTMLInputElement).value, {})
    if (!read.problem) onCommit(read.value === null ? null : toSi(read.value, shown))
  }
  return (
    <div class={refusal ? 'refused' : undefined} onInput={refusal ? mend : undefined}>
      <NumberField
        label={label}
        value={value == null ? null : rounded(value, shown)}
        unit={shown.unit}
        decimals={shown.decimals}
        onCommit={(next) => onCommit(toSi(next, shown))}
        onClear={() => onCommit(null)}
        {...(steps ? { step: shown.step } : {})}
        {...(min === undefined ? {} : { min: limit(min) ?? 0 })}
        {...(max === undefined ? {} : { max: limit(max) ?? 0 })}
        {...(hint ? { hint } : {})}
      />
      {refusal && <p class="refusal" role="alert">{refusal}</p>}
      {worth && !refusal && <p class="remark">{worth}</p>}
    </div>
  )
}
