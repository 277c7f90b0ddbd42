import type { Doer } from '../journal/index.ts';
import type { Actor } from '../platform/access/actor.ts';
import type { Tx } from '../platform/database/database.ts';
import type { EntranceContext } from '../platform/http/route.ts';

/** Whoever stands behind an entry of the journal; nobody where nobody has signed in yet. */
export function doerOf(
  { now, newId, requestId }: EntranceContext,
  tx: Tx,
  actor?: Pick<Actor, 'kind' | 'id' | 'role'>,
): Doer {
  return { tx, now, newId, requestId, ...(actor && { actor }) };
}
