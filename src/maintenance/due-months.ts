import type { Sql } from '../platform/database/database.ts';

/** A month in which maintenance is due and no ticket was opened for it yet. */
export interface DueMonth {
  agreementId: string;
  siteId: string;
  planCode: string;
  /** As `2026-06`. */
  dueMonth: string;
  minutes: number;
  /** How many months of the agreement are over and undone, this one among them; 0 for one that is not. */
  monthsBehind: number;
  /** The agreement is over; what was paid for under it is owed still. */
  agreementEnded: boolean;
}

/** A month of an agreement: where a page of the list begins, or what is asked for. */
export interface MonthOf {
  dueMonth: string;
  agreementId: string;
}

/** Up to when, in days of the company's calendar. */
interface Reach {
  today: string;
  /** The last month, as `2026-06`. */
  until: string;
}

/**
 * What is due under agreements, from the month in which each began, the longest overdue first. A month
 * counts when the agreement holds on a day of it; in the month of a renewal a site is maintained once.
 * What was left undone is owed for 90 days after an agreement ends. Whoever cancels the ticket of a
 * month has it due again.
 *
 * Of the months that are over only the latest is listed, with how many there are: nobody comes twice
 * in a week because nobody came for ten years. Each is owed all the same, and can be asked for alone.
 */
export async function dueMonths(
  sql: Sql,
  { today, until, after, limit }: Reach & { after?: MonthOf; limit: number },
): Promise<DueMonth[]> {
  const from = after === undefined ? [null, null] : [firstOf(after.dueMonth), after.agreementId];
  const { rows } = await sql.query<DueMonth>(LIST, [today, firstOf(until), ...from, limit]);
  return rows;
}

/** Whether a month of an agreement is due, also where a later one is listed in its place. */
export async function isDue(
  sql: Sql,
  today: string,
  { dueMonth, agreementId }: MonthOf,
): Promise<boolean> {
  const first = firstOf(dueMonth);
  const { rows } = await sql.query<DueMonth>(ONE, [today, first, first, agreementId]);
  return rows.length > 0;
}

function firstOf(month: string): string {
  return `${month}-01`;
}

/**
 * Where due months come from: $1 is today, $2 the last day that counts. Months are series of
 * timestamps without a zone: no clock of any place moves them.
 */
const dueSource = `
  FROM maintenance_schedule s
  JOIN site_agreement a ON a.id = s.agreement_id AND a.ends_on > $1::date - 90
    AND a.ends_on > a.starts_on
  CROSS JOIN LATERAL (
    SELECT m, over.is_over, count(*) OVER by_end AS behind,
      row_number() OVER (by_end ORDER BY m DESC) AS nth
    FROM generate_series(date_trunc('month', a.starts_on::timestamp),
      least($2::date, a.ends_on - 1)::timestamp, interval '1 month') AS m
    CROSS JOIN LATERAL (SELECT m < date_trunc('month', $1::date::timestamp) AS is_over) AS over
    WHERE extract(month FROM m) = ANY (s.months)
      AND NOT EXISTS (SELECT 1 FROM maintenance_due d
        JOIN ticket t ON t.id = d.ticket_id
        JOIN site_agreement given ON given.id = d.agreement_id
        WHERE given.site_id = a.site_id AND d.due_month = m::date AND t.state <> 'cancelled')
      AND NOT EXISTS (SELECT 1 FROM site_agreement before
        JOIN maintenance_schedule same ON same.agreement_id = before.id
        WHERE before.site_id = a.site_id AND before.starts_on < a.starts_on
          AND before.ends_on > before.starts_on AND before.ends_on > m::date
          AND extract(month FROM m) = ANY (same.months))
    WINDOW by_end AS (PARTITION BY over.is_over)
  ) AS due`;

/** Those that are listed: of what is over the latest alone. */
export const listedDue = `${dueSource}
  WHERE NOT (due.is_over AND due.nth > 1)`;

const COLUMNS = `
  SELECT a.id AS "agreementId", a.site_id AS "siteId", a.plan_code AS "planCode",
    to_char(due.m, 'YYYY-MM') AS "dueMonth", s.minutes, a.ends_on <= $1::date AS "agreementEnded",
    CASE WHEN due.is_over THEN due.behind ELSE 0 END::int AS "monthsBehind"`;

const LIST = `${COLUMNS} ${listedDue}
    AND ($3::date IS NULL OR (due.m::date, a.id) > ($3::date, $4::uuid))
  ORDER BY due.m, a.id LIMIT $5`;

const ONE = `${COLUMNS} ${dueSource}
  WHERE (due.m::date, a.id) = ($3::date, $4::uuid)`;
