// The server's errors in the person's language: by their stable code, else in the server's own words.
import type { Trouble } from '../sync/contract';
import { isWordKey, t } from '../words';

export function sayTrouble(trouble: Trouble): string {
  const key = `shell.trouble.${trouble.code}`;
  if (isWordKey(key)) return t(key);
  return `${trouble.message} ${trouble.do}`.trim();
}
