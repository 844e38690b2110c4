// The server's errors in the person's language: by their stable code, else in the server's own words.
import type { Trouble } from '../sync/contract';
import { isWordKey, t } from '../words';

/** The server no longer takes anything from this phone until it joins again. */
export const isShutOut = (trouble: Trouble | null): boolean =>
  trouble !== null && ['device_revoked', 'token_unknown', 'token_missing'].includes(trouble.code);

export function sayTrouble(trouble: Trouble): string {
  const key = `shell.trouble.${trouble.code}`;
  if (isWordKey(key)) return t(key);
  return `${trouble.message} ${trouble.do}`.trim();
}
