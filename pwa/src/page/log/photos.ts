// Photos: kept on the phone under the hash of their bytes, sent after the events.
import { signal, type ReadonlySignal } from '@preact/signals';
import type { PhotoId } from '../../shared/events';
import type { Steady } from '../../shared/store/steady';
import { dropPhoto, readPhoto, sha256Of, writePhoto } from './photo-store';
import { shrink, type Picture } from './resize';
import { noteStorageError, storage, storageTrouble } from './storage';

export { NotAPicture } from './resize';

/** What was read back is not what was written. */
export class PhotoNotKept extends Error {
  override readonly name = 'PhotoNotKept';
}

/** Asks the server for a photo this phone lacks; set by the sync room. Null when it can't be had now. */
type FetchPhoto = (sha256: string) => Promise<Picture | null>;
let fetchPhoto: FetchPhoto = () => Promise.resolve(null);
let onKept: () => void = () => undefined;
export function connectPhotos(fetcher: FetchPhoto, kept: () => void): void {
  fetchPhoto = fetcher;
  onKept = kept;
}

const waiting = signal(0);
/** Photos that the server does not have yet. */
export const photosWaiting: ReadonlySignal<number> = waiting;

/** Counts them anew. */
export async function countPhotos(): Promise<void> {
  waiting.value = await storage.run((db) => db.countFromIndex('photos', 'waiting', 1));
}

/** Shrinks and keeps a picture; resolves when it is on the disk and reads back the same. */
export async function keepPhoto(file: Blob): Promise<PhotoId> {
  const picture = await shrink(file);
  const sha256 = await keepPicture(storage, picture, new Date().toISOString()).catch((error: unknown) => {
    noteStorageError(error);
    throw error;
  });
  if (storageTrouble.value === 'full') storageTrouble.value = null; // there is room again
  await countPhotos();
  onKept();
  return sha256;
}

export async function keepPicture(steady: Steady, picture: Picture, at: string): Promise<PhotoId> {
  const sha256 = await sha256Of(picture.bytes);
  await steady.run((db) => writePhoto(db, sha256, picture, at, 1));
  const back = await steady.run((db) => readPhoto(db, sha256));
  if (!back || (await sha256Of(back.bytes.buffer)) !== sha256) {
    await steady.run((db) => dropPhoto(db, sha256));
    throw new PhotoNotKept('The photo did not save. Take it again.');
  }
  return sha256 as PhotoId;
}

const urls = new Map<string, string>();

/** An address for <img>; null when the photo is neither here nor to be had now. */
export async function photoUrl(sha256: string): Promise<string | null> {
  const known = urls.get(sha256);
  if (known) return known;
  const here = await storage.run((db) => readPhoto(db, sha256));
  const blob = here ? new Blob([here.bytes], { type: here.record.mime }) : await fetched(sha256);
  if (!blob) return null;
  const url = URL.createObjectURL(blob);
  urls.set(sha256, url);
  return url;
}

async function fetched(sha256: string): Promise<Blob | null> {
  const picture = await fetchPhoto(sha256);
  if (!picture) return null;
  // kept under the name the log knows it by; the server's copy is re-encoded, so its own hash differs
  await storage.run((db) => writePhoto(db, sha256, picture, new Date().toISOString(), 0)).catch(noteStorageError);
  return new Blob([picture.bytes], { type: picture.mime });
}
