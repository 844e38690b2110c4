// Copies of unsent work, for when this phone may not or can't send it.
import { write, type FieldDatabase, type KeptCopy } from '../../shared/store/database';
import { unsentEvents } from '../../shared/store/outbox';

export type UnsentCopy = { readonly name: string; readonly count: number; readonly text: string };

const named = (copy: KeptCopy): UnsentCopy => ({
  name: `slabtide-unsent-${copy.at.slice(0, 16).replaceAll(':', '')}.json`,
  count: copy.count,
  text: copy.text,
});

/** Writes a copy of the outbox and the rejected events into the store of kept copies. Null when both are empty. */
export async function keepCopy(db: FieldDatabase, at: string): Promise<UnsentCopy | null> {
  const events = await unsentEvents(db);
  const rejected = await db.getAll('rejected');
  const count = events.length + rejected.length;
  if (count === 0) return null;
  const text = JSON.stringify({ format: 'slabtide-unsent', version: 1, at, events, rejected }, null, 1);
  await write(db, ['kept'], (tx) => tx.objectStore('kept').add({ at, count, text }));
  return named({ at, count, text });
}

export async function keptCopies(db: FieldDatabase): Promise<{ id: number; at: string; copy: UnsentCopy }[]> {
  const rows = await db.getAll('kept');
  return rows.flatMap((row) => (row.id === undefined ? [] : [{ id: row.id, at: row.at, copy: named(row) }]));
}
