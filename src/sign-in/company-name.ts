import type { Sql } from '../platform/database/database.ts';

/** The name of the company; undefined before it is set up. */
export async function companyName(sql: Sql): Promise<string | undefined> {
  const found = await sql.query<{ name: string }>('SELECT name FROM company WHERE id = 1');
  return found.rows[0]?.name;
}
