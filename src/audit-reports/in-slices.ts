import type pg from 'pg';
import type { Sql } from '../platform/database/database.ts';
import type { Period } from './period.ts';

/** How many jobs a statement reads at a time: far below the seconds that one may take. */
const JOBS_AT_A_TIME = 5_000;

/**
 * Reads what belongs to the jobs of a period in slices of it, one statement for each, so that none
 * takes longer because the period is. The statement takes the ends of a slice as `$1` and `$2`.
 * @returns the rows in the order of the slices
 */
export async function inSlices<Row extends pg.QueryResultRow>(
  sql: Sql,
  { from, to }: Pick<Period, 'from' | 'to'>,
  { text, values = [] }: { text: string; values?: readonly unknown[] },
  jobsAtATime = JOBS_AT_A_TIME,
): Promise<Row[]> {
  const cuts = await sql.query<{ at: string }>(CUTS, [from, to, jobsAtATime]);
  const ends = [from, ...cuts.rows.map(({ at }) => at), to];
  const rows: Row[] = [];
  for (const [index, end] of ends.slice(1).entries()) {
    const slice = await sql.query<Row>(text, [ends[index], end, ...values]);
    for (const row of slice.rows) rows.push(row);
  }
  return rows;
}

// To the microsecond; jobs that ended in one instant stay together.
const CUTS = `
  SELECT placed.ended_at::text AS at FROM (
    SELECT ended_at, row_number() OVER (ORDER BY ended_at) AS place FROM audit_judgement
    WHERE ended_at >= $1 AND ended_at < $2) placed
  WHERE placed.place % $3::int = 0 GROUP BY placed.ended_at ORDER BY placed.ended_at`;
