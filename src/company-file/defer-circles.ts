import type pg from 'pg';
import type { TableLine } from './file-lines.ts';

/**
 * Lets the database look only in the end at references to tables that come later in the file: some
 * tables refer to each other in a circle, though no row does.
 * @returns what puts these references back as they were, once they have been looked at
 */
export async function deferCircles(
  client: pg.Client,
  tables: readonly TableLine[],
): Promise<() => Promise<void>> {
  const { rows } = await client.query<ForeignKey>(FOREIGN_KEYS);
  const placeOf = (name: string) => tables.findIndex(({ table }) => table === name);
  const ahead = rows.filter(({ from, to }) => placeOf(to) > placeOf(from));
  const alter = async ({ from, name }: ForeignKey, when: string) => {
    const [table, constraint] = [from, name].map((each) => client.escapeIdentifier(each));
    await client.query(`ALTER TABLE ${table} ALTER CONSTRAINT ${constraint} ${when}`);
  };
  for (const key of ahead) await alter(key, 'DEFERRABLE INITIALLY DEFERRED');
  return async () => {
    for (const key of ahead) await alter(key, key.was);
  };
}

interface ForeignKey {
  name: string;
  from: string;
  to: string;
  /** When it was looked at before. */
  was: string;
}

const FOREIGN_KEYS = `
  SELECT k.conname AS name, f.relname AS from, t.relname AS to,
    CASE WHEN NOT k.condeferrable THEN 'NOT DEFERRABLE'
      WHEN k.condeferred THEN 'DEFERRABLE INITIALLY DEFERRED'
      ELSE 'DEFERRABLE INITIALLY IMMEDIATE' END AS was
  FROM pg_constraint k JOIN pg_class f ON f.oid = k.conrelid JOIN pg_class t ON t.oid = k.confrelid
  WHERE k.contype = 'f' AND k.connamespace = 'public'::regnamespace ORDER BY k.conname`;
