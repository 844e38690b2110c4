// Room on a full phone: pictures the server already holds can be fetched again, work can't.
import type { FieldDatabase } from '../../shared/store/database';

/** Drops the bytes of photos that have been sent. Returns how many. */
export async function makeRoom(db: FieldDatabase): Promise<number> {
  return db.transaction('rw', db.photos, db.photoChunks, async () => {
    const sent = await db.photos.where('waiting').equals(0).primaryKeys();
    for (const photo of sent) await db.photoChunks.where('photo').equals(photo).delete();
    await db.photos.bulkDelete(sent);
    return sent.length;
  });
}
