import { sqlOf } from '../platform/database/database.ts';
import type { ActContext } from '../platform/http/route.ts';

/** A price book by its name for machines and the one for people. */
export interface BookName {
  id: string;
  number: number;
}

/**
 * The price book published last, whether or not it has taken effect; undefined before the first.
 * Nobody else publishes until the transaction ends, so it stays the newest: numbers have no gaps
 * and no twins, and what was decided by the newest book holds. Publishing is rare, so it may wait
 * for itself.
 */
export async function lockNewestBook(act: ActContext): Promise<BookName | undefined> {
  // Its own statement, before the book is looked for: the next one then sees whatever was
  // committed while this one waited.
  await sqlOf(act.tx).query('SELECT pg_advisory_xact_lock($1)', [PUBLISH_LOCK]);
  const newest = await act.tx.priceBookVersion.findFirst({
    orderBy: { number: 'desc' },
    select: { id: true, number: true },
  });
  return newest ?? undefined;
}

// Any constant will do, as long as every Evenhand process uses the same one.
const PUBLISH_LOCK = 7_205_313;
