import type { Sql } from '../platform/database/database.ts';

/** A month in which maintenance is due and no ticket was opened for it yet. */
export interface DueMonth {
  agreementId: string;
  siteId: string;
  planCode: string;
  /** As `2026-06`. */
  dueMonth: string;
  minutes: number;
}

/** Which of them: of a page of the list, or one alone. */
export interface DueFilter {
  /** Agreements that ended by this day are over, whatever was left undone. */
  today: string;
  /** The last month, as `2026-06`. */
  until: string;
  /** One month of one agreement. */
  only?: { dueMonth: string; agreementId: string };
  after?: { dueMonth: string; agreementId: string };
  limit: number;
}

/**
 * What is due under agreements that have not ended, from the month in which each began, the longest
 * overdue first. A month counts when the agreement holds on a day of it. Whoever cancels the ticket
 * of a month has it due again.
 */
export async function dueMonths(
  sql: Sql,
  { today, until, only, after, limit }: DueFilter,
): Promise<DueMonth[]> {
  const { rows } = await sql.query<DueMonth>(DUE, [
    today,
    `${until}-01`,
    only === undefined ? null : `${only.dueMonth}-01`,
    only?.agreementId ?? null,
    after === undefined ? null : `${after.dueMonth}-01`,
    after?.agreementId ?? null,
    limit,
  ]);
  return rows;
}

// Months are series of timestamps without a zone: no clock of any place moves them.
const DUE = `
  SELECT a.id AS "agreementId", a.site_id AS "siteId", a.plan_code AS "planCode",
    to_char(m, 'YYYY-MM') AS "dueMonth", s.minutes
  FROM maintenance_schedule s
  JOIN site_agreement a ON a.id = s.agreement_id AND a.ends_on > $1::date
    AND a.ends_on > a.starts_on
  CROSS JOIN LATERAL generate_series(date_trunc('month', a.starts_on::timestamp),
    least($2::date, a.ends_on - 1)::timestamp, interval '1 month') AS m
  WHERE extract(month FROM m) = ANY (s.months)
    AND ($3::date IS NULL OR (m::date, a.id) = ($3::date, $4::uuid))
    AND ($5::date IS NULL OR (m::date, a.id) > ($5::date, $6::uuid))
    AND NOT EXISTS (SELECT 1 FROM maintenance_due d JOIN ticket t ON t.id = d.ticket_id
      WHERE d.agreement_id = a.id AND d.due_month = m::date AND t.state <> 'cancelled')
  ORDER BY m, a.id LIMIT $7`;
