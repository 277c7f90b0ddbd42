import type { TestService } from './test-service.ts';

/** How many rows every table has: what a request that only looks leaves as it was. */
export async function rowsOfAll({
  owner,
}: Pick<TestService, 'owner'>): Promise<Record<string, number>> {
  const { rows: tables } = await owner.query<{ name: string }>(
    `SELECT quote_ident(tablename) AS name FROM pg_tables WHERE schemaname = 'public' ORDER BY 1`,
  );
  const counts: Record<string, number> = {};
  for (const { name } of tables) {
    const { rows } = await owner.query(`SELECT count(*)::int AS rows FROM ${name}`);
    counts[name] = rows[0].rows;
  }
  return counts;
}
