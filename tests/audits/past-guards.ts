import type { TestService } from '../harness/test-service.ts';

/**
 * Writes past the application and the guards of the database, the way only somebody can who owns it;
 * all of it or nothing.
 */
export async function pastGuards(
  { owner }: Pick<TestService, 'owner'>,
  statements: readonly string[],
  values: readonly unknown[],
): Promise<void> {
  const client = await owner.connect();
  try {
    await client.query('BEGIN');
    await client.query("SET LOCAL session_replication_role = 'replica'");
    for (const statement of statements) await client.query(statement, [...values]);
    await client.query('COMMIT');
  } catch (error) {
    await client.query('ROLLBACK');
    throw error;
  } finally {
    client.release();
  }
}
