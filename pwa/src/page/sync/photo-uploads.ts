// Photos to and from the server, one at a time, after the events.
import type { Steady } from '../../shared/store/steady';
import { notePhotoSent, readPhoto } from '../log/photo-store';
import type { Picture } from '../log/resize';
import { storage } from '../log/storage';
import { call, CallFailed } from './call';

export type SendPhoto = (sha256: string, bytes: Uint8Array<ArrayBuffer>, mime: string) => Promise<void>;

const send: SendPhoto = async (sha256, bytes, mime) => {
  await call(`/api/photos/${sha256}`, { method: 'PUT', bytes, mime });
};

/** Sends what waits. A photo the server refuses stays on the phone and does not hold up the others. */
export async function sendPhotos(steady: Steady = storage, put: SendPhoto = send): Promise<{ sent: number; left: number }> {
  const waiting = await steady.run((db) => db.getAllKeysFromIndex('photos', 'waiting', 1));
  let sent = 0;
  for (const sha256 of waiting) {
    const photo = await steady.run((db) => readPhoto(db, sha256));
    if (!photo) continue;
    try {
      await put(sha256, photo.bytes, photo.record.mime);
    } catch (error) {
      if (!(error instanceof CallFailed)) throw error;
      if (error.status === 0 || error.status >= 500) break;
      continue;
    }
    await steady.run((db) => notePhotoSent(db, sha256));
    sent += 1;
  }
  return { sent, left: waiting.length - sent };
}

/** A photo that another phone took; null when it can't be had now. */
export async function fetchPhoto(sha256: string): Promise<Picture | null> {
  try {
    const response = await call(`/api/photos/${sha256}`);
    return { bytes: await response.arrayBuffer(), mime: response.headers.get('Content-Type') ?? 'image/jpeg' };
  } catch (error) {
    if (error instanceof CallFailed) return null;
    throw error;
  }
}
