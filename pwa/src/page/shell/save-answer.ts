// What the server made, as a file in the person's hands.
import { call } from '../sync/call';

/** Fetches a file and saves it under the name the server gave, or `otherwise`. Throws CallFailed. */
export async function saveAnswer(path: string, otherwise: string): Promise<void> {
  const answer = await call(path);
  const name = /filename="([\w.-]+)"/.exec(answer.headers.get('Content-Disposition') ?? '')?.[1] ?? otherwise;
  const url = URL.createObjectURL(await answer.blob());
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}
