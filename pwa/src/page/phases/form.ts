import { useDraft } from '../shell/drafts'

/** A form's values, kept through a reload until saved or dropped. */
export function useForm<T extends object>(key: string, start: () => T): { readonly value: T; readonly put: (part: Partial<T>) => void; readonly clear: () => void; readonly touched: boolean } {
  const [text, setText, clear] = useDraft(key)
  const kept = readKept<T>(text)
  const value = { ...start(), ...kept }
  return { value, put: (part) => setText(JSON.stringify({ ...kept, ...part })), clear, touched: text !== '' }
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
