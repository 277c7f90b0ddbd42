import { sqlOf, type Tx } from './database.ts';

/** Tables whose rows live and are changed by more than one person. */
export type LockableTable = 'customer' | 'site' | 'equipment' | 'ticket' | 'visit';

/**
 * Locks one row until the transaction ends, so that whoever else wants to change it waits and then
 * sees what was decided. A row that does not exist locks nothing.
 */
export async function lockRow(tx: Tx, table: LockableTable, id: string): Promise<void> {
  await sqlOf(tx).query(LOCKS[table], [id]);
}

const LOCKS: Record<LockableTable, string> = {
  customer: 'SELECT 1 FROM customer WHERE id = $1 FOR UPDATE',
  site: 'SELECT 1 FROM site WHERE id = $1 FOR UPDATE',
  equipment: 'SELECT 1 FROM equipment WHERE id = $1 FOR UPDATE',
  ticket: 'SELECT 1 FROM ticket WHERE id = $1 FOR UPDATE',
  visit: 'SELECT 1 FROM visit WHERE id = $1 FOR UPDATE',
};
