import type { Clock } from '../platform/clock.ts';
import type { Database } from '../platform/database/database.ts';
import { inTx } from '../platform/database/in-tx.ts';
import type { Ids } from '../platform/ids.ts';
import { type MadeLink, makeLink } from './make-link.ts';
import { lockFirstOwner, someoneCanSignIn } from './someone-can-sign-in.ts';

/**
 * Makes the link by which the first owner comes in, where nobody can sign in yet. Each start makes
 * another one, and the earlier is worth nothing: whoever reads an old log finds nothing that opens.
 * @returns undefined where somebody can sign in already
 */
export async function offerFirstLink({
  db,
  clock,
  ids,
}: {
  db: Pick<Database, 'transact'>;
  clock: Clock;
  ids: Ids;
}): Promise<MadeLink | undefined> {
  const now = clock.now();
  return inTx(db, async (tx) => {
    await lockFirstOwner(tx);
    if (await someoneCanSignIn(tx, now)) return undefined;
    return makeLink({ tx, now, newId: () => ids.next() }, 'first_owner', null);
  });
}
