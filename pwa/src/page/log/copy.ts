// Copies of unsent work, for when this phone may not or can't send it.
import type { FieldDatabase, KeptCopy } from '../../shared/store/database';

export type UnsentCopy = { readonly name: string; readonly count: number; readonly text: string };

const named = (copy: KeptCopy): UnsentCopy => ({
  name: `slabtide-unsent-${copy.at.slice(0, 16).replaceAll(':', '')}.json`,
  count: copy.count,
  text: copy.text,
});

/** Writes a copy of the outbox and the rejected events into the store of kept copies. Null when both are empty. */
export async function keepCopy(db: FieldDatabase, at: string): Promise<UnsentCopy | null> {
  return db.transaction('rw', [db.events, db.outbox, db.rejected, db.kept], async () => {
    const ids = await db.outbox.toCollection().primaryKeys();
    const waiting = (await db.events.bulkGet(ids)).filter((event) => event !== undefined);
    const rejected = await db.rejected.toArray();
    const count = waiting.length + rejected.length;
    if (count === 0) return null;
    const text = JSON.stringify({ format: 'slabtide-unsent', version: 1, at, events: waiting, rejected }, null, 1);
    const copy = { at, count, text };
    await db.kept.add(copy);
    return named(copy);
  });
}

export async function keptCopies(db: FieldDatabase): Promise<{ id: number; at: string; copy: UnsentCopy }[]> {
  const rows = await db.kept.toArray();
  return rows.flatMap((row) => (row.id === undefined ? [] : [{ id: row.id, at: row.at, copy: named(row) }]));
}
