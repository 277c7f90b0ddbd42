import type { Sql } from '../platform/database/database.ts';
import { listedDue } from './due-months.ts';

/**
 * How many months are listed as due by a day, as far as they are counted: whoever looks
 * at a board wants to know whether there is work, and nobody reads on after so many.
 * @param today as `2026-07-14`
 */
export async function countDue({ sql }: { sql: Sql }, today: string, max: number): Promise<number> {
  const found = await sql.query<{ due: number }>(COUNT, [today, today, max]);
  return found.rows[0]?.due ?? 0;
}

// Without the order of the list, so that it ends with the last one that is counted.
const COUNT = `SELECT count(*)::int AS due FROM (SELECT 1 ${listedDue} LIMIT $3) counted`;
