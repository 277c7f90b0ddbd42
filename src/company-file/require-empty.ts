import type pg from 'pg';
import type { Layout } from './read-layout.ts';

/** What a migration puts into a database that nobody has used yet. */
const BORN: Readonly<Record<string, string>> = { audit_place: 'position = 0' };

/**
 * Makes sure that nobody has put anything in, and takes out what the migrations did: the file
 * brings it along.
 * @throws Error when there is something in any table
 */
export async function requireEmpty(client: pg.Client, { tables }: Layout): Promise<void> {
  for (const { name } of tables) {
    const table = client.escapeIdentifier(name);
    const born = BORN[name] ?? 'false';
    const { rows } = await client.query<{ used: boolean }>(
      `SELECT EXISTS (SELECT FROM ${table} WHERE (${born}) IS NOT TRUE) AS used`,
    );
    if (rows[0]?.used !== false) {
      throw new Error(
        `The database is not empty: there are rows in ${name}. Restore into a new database, ` +
          'before the service is started on it.',
      );
    }
    await client.query(`DELETE FROM ${table}`);
  }
}
