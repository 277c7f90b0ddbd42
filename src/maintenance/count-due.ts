import type { Sql } from '../platform/database/database.ts';

/**
 * How many months are due by a day and have no ticket yet, as far as they are counted: whoever looks
 * at a board wants to know whether there is work, and nobody reads on after so many.
 * @param today as `2026-07-14`
 */
export async function countDue({ sql }: { sql: Sql }, today: string, max: number): Promise<number> {
  const found = await sql.query<{ due: number }>(COUNT, [today, max]);
  return found.rows[0]?.due ?? 0;
}

// As the list of them says it (`due-months.ts`), without its order, so that it ends with the last
// one that is counted.
const COUNT = `
  SELECT count(*)::int AS due FROM (
    SELECT 1
    FROM maintenance_schedule s
    JOIN site_agreement a ON a.id = s.agreement_id AND a.ends_on > $1::date
      AND a.ends_on > a.starts_on
    CROSS JOIN LATERAL generate_series(date_trunc('month', a.starts_on::timestamp),
      least($1::date, a.ends_on - 1)::timestamp, interval '1 month') AS m
    WHERE extract(month FROM m) = ANY (s.months)
      AND NOT EXISTS (SELECT 1 FROM maintenance_due d JOIN ticket t ON t.id = d.ticket_id
        WHERE d.agreement_id = a.id AND d.due_month = m::date AND t.state <> 'cancelled')
    LIMIT $2) counted`;
