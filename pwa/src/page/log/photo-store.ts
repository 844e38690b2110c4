// Photo bytes on the disk: chunks in their own table, written once, read back and hashed before anyone says "saved".
import { write, type FieldDatabase, type PhotoRecord } from '../../shared/store/database';

const chunkBytes = 256 * 1024;

export async function sha256Of(bytes: ArrayBuffer): Promise<string> {
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** Writes the chunks, then the record. A photo that is here already is left alone. */
export async function writePhoto(
  db: FieldDatabase, sha256: string, picture: { bytes: ArrayBuffer; mime: string }, at: string, waiting: 0 | 1,
): Promise<void> {
  await write(db, ['photos', 'photoChunks'], async (tx) => {
    if (await tx.objectStore('photos').get(sha256)) return;
    const size = picture.bytes.byteLength;
    const chunks = Math.ceil(size / chunkBytes);
    for (let index = 0; index < chunks; index += 1) {
      const bytes = picture.bytes.slice(index * chunkBytes, (index + 1) * chunkBytes);
      await tx.objectStore('photoChunks').put({ photo: sha256, index, bytes });
    }
    await tx.objectStore('photos').put({ sha256, mime: picture.mime, size, chunks, at, waiting });
  });
}

/** The photo's bytes, whole and in order; null when it is not here or a piece is missing. */
export async function readPhoto(db: FieldDatabase, sha256: string): Promise<{ record: PhotoRecord; bytes: Uint8Array<ArrayBuffer> } | null> {
  const tx = db.transaction(['photos', 'photoChunks']);
  const record = await tx.objectStore('photos').get(sha256);
  if (!record) return null;
  const chunks = await tx.objectStore('photoChunks').index('photo').getAll(sha256);
  const bytes = new Uint8Array(record.size);
  let end = 0;
  for (const chunk of chunks.sort((one, other) => one.index - other.index)) {
    if (end + chunk.bytes.byteLength > record.size) return null;
    bytes.set(new Uint8Array(chunk.bytes), end);
    end += chunk.bytes.byteLength;
  }
  return end === record.size ? { record, bytes } : null;
}

export async function dropPhoto(db: FieldDatabase, sha256: string): Promise<void> {
  await write(db, ['photos', 'photoChunks'], async (tx) => {
    const chunks = tx.objectStore('photoChunks');
    const keys = await chunks.index('photo').getAllKeys(sha256);
    await Promise.all(keys.map((key) => chunks.delete(key)));
    await tx.objectStore('photos').delete(sha256);
  });
}

/** Notes that the server holds the photo now. */
export async function notePhotoSent(db: FieldDatabase, sha256: string): Promise<void> {
  await write(db, ['photos'], async (tx) => {
    const record = await tx.objectStore('photos').get(sha256);
    if (record) await tx.objectStore('photos').put({ ...record, waiting: 0 });
  });
}
