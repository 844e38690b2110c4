// What was refused or failed, in the person's language: by its stable code or name, else in the words that came.
import { CallFailed } from '../sync/call';
import type { Trouble } from '../sync/contract';
import { isWordKey, t } from '../words';

/** The server no longer takes anything from this phone until it joins again. */
export const isShutOut = (trouble: Trouble | null): boolean =>
  trouble !== null && ['device_revoked', 'token_unknown', 'token_missing'].includes(trouble.code);

export function sayTrouble(trouble: Trouble): string {
  const key = `trouble.${trouble.code}`;
  return t(isWordKey(key) ? key : 'trouble.failed', { message: trouble.message, do: trouble.do }).trim();
}

/** Any failure as a sentence to show: the server's by its code, this phone's by its name. */
export function sayError(error: unknown): string {
  if (error instanceof CallFailed) return sayTrouble(error.trouble);
  const name = error instanceof Error || error instanceof DOMException ? error.name : '';
  const key = `trouble.fault.${name}`;
  if (isWordKey(key)) return t(key);
  return t('trouble.fault.unforeseen', { message: error instanceof Error ? error.message : String(error) });
}
