import type { TestService } from '../harness/test-service.ts';

/**
 * The rows of every table, each in its version, in one number a table: a row that was added, changed
 * or taken away makes it another. What is kept of the answers themselves is left out.
 */
export async function rowVersions({
  owner,
}: Pick<TestService, 'owner'>): Promise<Record<string, string>> {
  const { rows: tables } = await owner.query<{ name: string }>(
    `SELECT tablename AS name FROM pg_tables
     WHERE schemaname = 'public' AND tablename <> 'idempotency_key' ORDER BY 1`,
  );
  const counted = tables.map(
    ({ name }) => `SELECT '${name}' AS name, count(*) || ' ' ||
      coalesce(sum(hashtext(xmin::text || ctid::text)), 0) AS versions FROM "${name}"`,
  );
  const { rows } = await owner.query<{ name: string; versions: string }>(
    counted.join(' UNION ALL '),
  );
  return Object.fromEntries(rows.map(({ name, versions }) => [name, versions]));
}
