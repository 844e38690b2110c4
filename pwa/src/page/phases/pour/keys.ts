/** What the keys of the number pad do to the text in a field. No DOM. */

export type PadKey = '0' | '1' | '2' | '3' | '4' | '5' | '6' | '7' | '8' | '9' | '.' | 'back' | 'clear'

/** Long enough for any amount on a ticket. */
const MOST_DIGITS = 7

/** The text after a key; `point` says whether the field takes decimals. `fresh`: what stands there goes with the first digit. */
export function pressKey(text: string, key: PadKey, { point, fresh }: { readonly point: boolean; readonly fresh: boolean }): string {
  if (key === 'clear') return ''
  if (key === 'back') return fresh ? '' : text.slice(0, -1)
  const before = fresh ? '' : text
  if (key === '.') return !point || before.includes('.') ? before : `${before || '0'}.`
  if (before.replace(/\D/g, '').length >= MOST_DIGITS) return before
  return before === '0' ? key : before + key
}
