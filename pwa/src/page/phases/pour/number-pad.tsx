import type { ComponentChildren } from 'preact'
import { t } from '../../words'
import type { PadKey } from './keys'

const ROWS: readonly PadKey[] = ['1', '2', '3', 'back', '4', '5', '6', 'clear', '7', '8', '9']

export interface NumberPadProps {
  /** The field it types into, for those who do not see it. */
  readonly label: string
  /** The key beside the zero: the decimal point, or what parts hours from minutes; none for whole numbers. */
  readonly point: '.' | null
  readonly onKey: (key: PadKey) => void
  readonly onNext: () => void
  /** The words of the last key: on to the next field, or done. */
  readonly next: string
  /** What stands over the keys: the field, its quick values. */
  readonly children?: ComponentChildren
  /** No keys: the field is typed into with a keyboard. */
  readonly bare?: boolean
}

/** Keys for a wet glove. They leave the focus in the field, so a keyboard types on beside them. */
export function NumberPad({ label, point, onKey, onNext, next, children, bare }: NumberPadProps) {
  return (
    <div class="pad no-print" role="group" aria-label={t('pour.pad.name', { field: label })} onPointerDown={stay} onMouseDown={stay}>
      {children}
      {!bare && (
        <div class="pad-keys">
          {ROWS.map((key) => <Key key={key} name={key} onKey={onKey} />)}
          <button type="button" class="pad-key pad-next" onClick={onNext}>{next}</button>
          {point ? <Key name="." onKey={onKey} /> : <span />}
          <Key name="0" onKey={onKey} />
          <span />
        </div>
      )}
    </div>
  )
}

function stay(event: Event): void {
  event.preventDefault()
}

function Key({ name, onKey }: { readonly name: PadKey; readonly onKey: (key: PadKey) => void }) {
  const word = name === 'back' ? '⌫' : name === 'clear' ? t('pour.pad.clear') : name
  const spoken = name === 'back' ? t('pour.pad.back') : name === '.' ? t('pour.pad.point') : undefined
  return <button type="button" class={`pad-key pad-key-${/\d/.test(name) ? 'digit' : 'do'}`} aria-label={spoken} onClick={() => onKey(name)}>{word}</button>
}
