import { sqlOf } from '../platform/database/database.ts';
import type { ActContext } from '../platform/http/route.ts';

/**
 * Locks a place until the transaction ends, against others who lock it. Whoever only adds a move
 * there does not wait: the levels add up without it.
 */
export async function lockPlace({ tx }: ActContext, id: string): Promise<void> {
  await sqlOf(tx).query('SELECT 1 FROM stock_place WHERE id = $1 FOR NO KEY UPDATE', [id]);
}
