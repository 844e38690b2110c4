import { useRef } from 'preact/hooks'
import { useDraft } from '../shell/drafts'

export interface Form<T extends object> {
  readonly value: T
  readonly put: (part: Partial<T>) => void
  readonly clear: () => void
  /** Something has been entered that is not saved yet. */
  readonly touched: boolean
}

/** A form's values, kept through a reload until saved or dropped. */
export function useForm<T extends object>(key: string, start: () => T): Form<T> {
  const [text, setText, clear] = useDraft(key)
  // Two fields may be committed before the next draw (one leaves focus, the other is touched): each adds to the latest.
  const latest = useRef(text)
  latest.current = text
  const put = (part: Partial<T>): void => {
    latest.current = JSON.stringify({ ...readKept<T>(latest.current), ...part })
    setText(latest.current)
  }
  return { value: { ...start(), ...readKept<T>(text) }, put, clear, touched: text !== '' }
}

/** Kept text that no longer reads (an older version wrote it) counts as none. */
export function readKept<T extends object>(text: string): Partial<T> {
  if (text === '') return {}
  try {
    const read: unknown = JSON.parse(text)
    return typeof read === 'object' && read !== null && !Array.isArray(read) ? (read as Partial<T>) : {}
  } catch {
    return {}
  }
}
