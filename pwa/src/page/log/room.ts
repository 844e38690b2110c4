// Room on a full phone: pictures the server already holds can be fetched again, work can't.
import { write, type FieldDatabase } from '../../shared/store/database';

/** Drops the photos that have been sent. Returns how many. */
export async function makeRoom(db: FieldDatabase): Promise<number> {
  return write(db, ['photos', 'photoChunks'], async (tx) => {
    const sent = await tx.objectStore('photos').index('waiting').getAllKeys(0);
    const chunks = tx.objectStore('photoChunks');
    for (const photo of sent) {
      const keys = await chunks.index('photo').getAllKeys(photo);
      await Promise.all(keys.map((key) => chunks.delete(key)));
      await tx.objectStore('photos').delete(photo);
    }
    return sent.length;
  });
}
