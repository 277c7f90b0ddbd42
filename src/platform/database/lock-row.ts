import { sqlOf, type Tx } from './database.ts';

/** Tables whose rows live and are changed by more than one person. */
export type LockableTable =
  | 'company'
  | 'staff'
  | 'customer'
  | 'site'
  | 'equipment'
  | 'ticket'
  | 'visit';

/**
 * Locks one row until the transaction ends, so that whoever else wants to change it waits and then
 * sees what was decided. A row that does not exist locks nothing.
 *
 * NO KEY, as an UPDATE of a living row takes it: two who lock wait for each other, but whoever only
 * adds a row that points here does not wait, and so cannot end in a deadlock with us.
 */
export async function lockRow(tx: Tx, table: LockableTable, id: string): Promise<void> {
  await sqlOf(tx).query(LOCKS[table], [id]);
}

const LOCKS: Record<LockableTable, string> = {
  company: 'SELECT 1 FROM company WHERE id = $1::int FOR NO KEY UPDATE',
  staff: 'SELECT 1 FROM staff WHERE id = $1 FOR NO KEY UPDATE',
  customer: 'SELECT 1 FROM customer WHERE id = $1 FOR NO KEY UPDATE',
  site: 'SELECT 1 FROM site WHERE id = $1 FOR NO KEY UPDATE',
  equipment: 'SELECT 1 FROM equipment WHERE id = $1 FOR NO KEY UPDATE',
  ticket: 'SELECT 1 FROM ticket WHERE id = $1 FOR NO KEY UPDATE',
  visit: 'SELECT 1 FROM visit WHERE id = $1 FOR NO KEY UPDATE',
};
