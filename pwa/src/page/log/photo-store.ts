// Photo bytes on the disk: chunks in their own table, written once, read back and hashed before anyone says "saved".
import type { FieldDatabase, PhotoRecord } from '../../shared/store/database';

const chunkBytes = 256 * 1024;

export async function sha256Of(bytes: ArrayBuffer): Promise<string> {
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** Writes the chunks, then the record. A photo that is here already is left alone. */
export async function writePhoto(
  db: FieldDatabase, sha256: string, picture: { bytes: ArrayBuffer; mime: string }, at: string, waiting: 0 | 1,
): Promise<void> {
  await db.transaction('rw', db.photos, db.photoChunks, async () => {
    if (await db.photos.get(sha256)) return;
    const chunks = Math.ceil(picture.bytes.byteLength / chunkBytes);
    for (let index = 0; index < chunks; index += 1) {
      const bytes = picture.bytes.slice(index * chunkBytes, (index + 1) * chunkBytes);
      await db.photoChunks.put({ photo: sha256, index, bytes });
    }
    await db.photos.put({ sha256, mime: picture.mime, size: picture.bytes.byteLength, chunks, at, waiting });
  });
}

/** The photo's bytes, whole and in order; null when it is not here or a piece is missing. */
export async function readPhoto(db: FieldDatabase, sha256: string): Promise<{ record: PhotoRecord; bytes: Uint8Array<ArrayBuffer> } | null> {
  return db.transaction('r', db.photos, db.photoChunks, async () => {
    const record = await db.photos.get(sha256);
    if (!record) return null;
    const chunks = await db.photoChunks.where('photo').equals(sha256).sortBy('index');
    const bytes = new Uint8Array(record.size);
    let end = 0;
    for (const chunk of chunks) {
      bytes.set(new Uint8Array(chunk.bytes), end);
      end += chunk.bytes.byteLength;
    }
    return end === record.size ? { record, bytes } : null;
  });
}

export async function dropPhoto(db: FieldDatabase, sha256: string): Promise<void> {
  await db.transaction('rw', db.photos, db.photoChunks, async () => {
    await db.photoChunks.where('photo').equals(sha256).delete();
    await db.photos.delete(sha256);
  });
}
