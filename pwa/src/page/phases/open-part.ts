import { useRef } from 'preact/hooks'
import { useDraft } from '../shell/drafts'

export interface OpenPart {
  readonly open: string
  readonly setOpen: (part: string) => void
  /** Closes that part, and no other that was opened while it was being saved. */
  readonly close: (part: string) => void
}

/** Which part of a screen is open for change, kept through a reload. */
export function useOpenPart(key: string): OpenPart {
  const [open, setDraft] = useDraft(key)
  const latest = useRef(open)
  const setOpen = (part: string): void => {
    latest.current = part
    setDraft(part)
  }
  const close = (part: string): void => {
    if (latest.current === part) setOpen('')
  }
  return { open, setOpen, close }
}
