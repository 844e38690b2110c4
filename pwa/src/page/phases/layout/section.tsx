import type { ComponentChildren } from 'preact'
import { useId } from 'preact/hooks'
import { Button } from '../../look'
import { t } from '../../words'

export interface SectionProps {
  readonly title: string
  readonly children: ComponentChildren
  /** Shown instead of the children while open. */
  readonly form?: ComponentChildren
  readonly open?: boolean
  readonly onOpen?: (open: boolean) => void
  readonly mayEdit?: boolean
  /** Nothing has been entered yet. */
  readonly empty?: boolean
}

/** One part of the layout: what is known, and the form behind one button. */
export function Section({ title, children, form, open = false, onOpen, mayEdit = false, empty = false }: SectionProps) {
  const id = useId()
  return (
    <section class="block" aria-labelledby={id}>
      <div class="block-head">
        <h2 id={id}>{title}</h2>
        {mayEdit && onOpen && (
          <Button kind={empty && !open ? 'main' : 'plain'} expanded={open} label={`${t(open ? 'layout.close' : empty ? 'layout.enter' : 'layout.edit')}: ${title}`} onPress={() => onOpen(!open)}>
            {t(open ? 'layout.close' : empty ? 'layout.enter' : 'layout.edit')}
          </Button>
        )}
      </div>
      {open && form ? form : children}
    </section>
  )
}

export interface FactsProps {
  readonly rows: readonly (readonly [string, ComponentChildren])[]
}

/** Label and value pairs; rows without a value are left out. */
export function Facts({ rows }: FactsProps) {
  return (
    <dl class="facts">
      {rows.filter(([, value]) => value !== null && value !== undefined && value !== '').map(([label, value]) => (
        <div key={label} class="facts-row">
          <dt>{label}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  )
}

/** Save and drop, at the end of a form. */
export function FormEnd({ onSave, onDrop, disabled, refusal }: { readonly onSave: () => void; readonly onDrop: () => void; readonly disabled?: boolean; readonly refusal?: string | null }) {
  return (
    <div class="stack">
      {refusal && <p class="refusal" role="alert">{refusal}</p>}
      <div class="actions">
        <Button kind="main" disabled={disabled === true} onPress={onSave}>{t('layout.save')}</Button>
        <Button kind="quiet" onPress={onDrop}>{t('layout.drop')}</Button>
      </div>
    </div>
  )
}
