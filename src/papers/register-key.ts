import { appendJournal } from '../journal/index.ts';
import type { Database, Tx } from '../platform/database/database.ts';
import { inTx } from '../platform/database/in-tx.ts';
import { type KeySet, type PublicPaperKey, publicPaperKey } from '../proof/index.ts';

/**
 * Puts the public half of a key on record before anything is signed with it, once: papers are
 * checked by it for as long as they are kept, also after another key has taken its place.
 */
export async function registerKey(
  { db, now, newId }: { db: Pick<Database, 'transact'>; now: Date; newId(): string },
  publicKey: PublicPaperKey,
): Promise<void> {
  const { kid } = publicKey;
  await inTx(db, async (tx) => {
    const { count } = await tx.paperKey.createMany({
      data: [{ kid, publicKey, firstUsedAt: now }],
      skipDuplicates: true,
    });
    if (count === 0) return; // Known from an earlier start, or from another process.
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
export async function paperKeys(prisma: Pick<Tx, 'paperKey'>): Promise<KeySet> {
  const rows = await prisma.paperKey.findMany({
    orderBy: [{ firstUsedAt: 'desc' }, { kid: 'asc' }],
  });
  return { keys: rows.map((row) => publicPaperKey.parse(row.publicKey)) };
}
