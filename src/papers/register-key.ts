import { appendJournal } from '../journal/index.ts';
import type { Database } from '../platform/database/database.ts';
import { inTx } from '../platform/database/in-tx.ts';
import { type KeySet, type PublicPaperKey, publicPaperKey } from '../proof/index.ts';

/**
 * Puts the public half of a key on record before anything is signed with it, once: papers are
 * checked by it for as long as they are kept, also after another key has taken its place.
 */
export async function registerKey(
  { db, now, newId }: { db: Pick<Database, 'transact' | 'pool'>; now: Date; newId(): string },
  publicKey: PublicPaperKey,
): Promise<void> {
  const { kid } = publicKey;
  // Asked in plain SQL, as all that every start asks: the typed client takes a third of a second to
  // get ready.
  const known = await db.pool.query('SELECT FROM paper_key WHERE kid = $1', [kid]);
  if (known.rowCount === 1) return;
  await inTx(db, async (tx) => {
    const { count } = await tx.paperKey.createMany({
      data: [{ kid, publicKey, firstUsedAt: now }],
      skipDuplicates: true,
    });
    if (count === 0) return; // Another process was sooner.
    await appendJournal(
      { tx, now, newId },
      {
        event: 'paper_key.registered',
        subject: { kind: 'paper_key', id: kid },
        after: { publicKey: publicKey.x },
      },
    );
  });
}

/** Every key that papers were ever signed with, the latest first. */
export async function paperKeys({ pool }: Pick<Database, 'pool'>): Promise<KeySet> {
  const { rows } = await pool.query<{ public_key: unknown }>(
    'SELECT public_key FROM paper_key ORDER BY first_used_at DESC, kid',
  );
  return { keys: rows.map((row) => publicPaperKey.parse(row.public_key)) };
}
