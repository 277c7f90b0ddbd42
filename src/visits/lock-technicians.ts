import type { Tx } from '../platform/database/database.ts';
import { lockRow } from '../platform/database/lock-row.ts';

/**
 * Holds the days of some technicians until the transaction ends. Whoever books, moves or plans
 * their work comes through here, after its ticket and before its visit, lower identifiers first: so
 * everybody waits in one order, and of two visits of one trip the second sees the first.
 */
export async function lockTechnicians(tx: Tx, ids: readonly string[]): Promise<void> {
  for (const id of [...new Set(ids)].sort()) await lockRow(tx, 'staff', id);
}
