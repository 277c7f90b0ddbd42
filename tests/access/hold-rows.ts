import type { TestService } from '../harness/test-service.ts';

/** What is locked by those who work on it, in the order in which everybody locks. */
const locked = ['ticket', 'visit', 'site', 'equipment', 'invoice_state', 'stock_place'];

/**
 * Holds every row that somebody may be working on: whoever waits for one of them learns that it is
 * there.
 * @returns what lets them go
 */
export async function holdRows({
  owner,
}: Pick<TestService, 'owner'>): Promise<() => Promise<void>> {
  const holder = await owner.connect();
  await holder.query('BEGIN');
  for (const table of locked) await holder.query(`SELECT 1 FROM ${table} FOR NO KEY UPDATE`);
  return async () => {
    await holder.query('ROLLBACK');
    holder.release();
  };
}
