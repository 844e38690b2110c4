// A copy in the person's own hands: shared where the phone can, else downloaded.
import type { UnsentCopy } from '../log/journal';

export function saveCopy({ name, text }: UnsentCopy): void {
  const url = URL.createObjectURL(new Blob([text], { type: 'application/json' }));
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}
