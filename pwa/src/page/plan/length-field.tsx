import { useState } from 'preact/hooks'
import { formatLength, parseLength } from '../../shared/units'
import { TextField } from '../look'
import { units } from '../shell/preferences'
import { t } from '../words'

export interface LengthFieldProps {
  readonly label: string
  readonly value_m: number | null | undefined
  readonly onCommit: (value_m: number) => void
  readonly onClear?: () => void
  readonly min_m?: number
  readonly max_m?: number
  readonly hint?: string
}

/** A length typed the way people say it: feet and inches, or metres. */
export function LengthField({ label, value_m, onCommit, onClear, min_m = -1000, max_m = 1000, hint }: LengthFieldProps) {
  const [problem, setProblem] = useState<string | null>(null)
  const system = units.value
  const shown = value_m == null ? '' : formatLength(value_m, system)
  const commit = (text: string): void => {
    if (text.trim() === '' && onClear) return void (setProblem(null), onClear())
    const read = parseLength(text, system)
    if (read === null || read === undefined) return setProblem(t(system === 'us' ? 'layout.length.unreadable_us' : 'layout.length.unreadable_metric'))
    if (read < min_m) return setProblem(t('layout.length.short', { least: formatLength(min_m, system) }))
    if (read > max_m) return setProblem(t('layout.length.long', { most: formatLength(max_m, system) }))
    setProblem(null)
    onCommit(read)
  }
  return <TextField label={label} value={shown} onCommit={commit} onType={() => setProblem(null)} error={problem} {...(hint ? { hint } : {})} inputMode={system === 'us' ? 'text' : 'decimal'} />
}
