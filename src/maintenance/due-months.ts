import type { Sql } from '../platform/database/database.ts';

/** A month in which maintenance is due and no ticket was opened for it yet. */
export interface DueMonth {
  agreementId: string;
  siteId: string;
  planCode: string;
  /** As `2026-06`. */
  dueMonth: string;
  minutes: number;
  /** The agreement is over; what was paid for under it is owed still. */
  agreementEnded: boolean;
}

/** Which of them: of a page of the list, or one alone. */
export interface DueFilter {
  /** By the company's calendar. */
  today: string;
  /** The last month, as `2026-06`. */
  until: string;
  /** One month of one agreement. */
  only?: { dueMonth: string; agreementId: string };
  after?: { dueMonth: string; agreementId: string };
  limit: number;
}

/**
 * What is due under agreements, from the month in which each began, the longest overdue first. A month
 * counts when the agreement holds on a day of it; in the month of a renewal a site is maintained once.
 * What was left undone is owed for 90 days after an agreement ends. Whoever cancels the ticket of a
 * month has it due again.
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

/**
 * Where due months come from: $1 is today, $2 the last day that counts. Months are series of
 * timestamps without a zone: no clock of any place moves them.
 */
export const dueSource = `
  FROM maintenance_schedule s
  JOIN site_agreement a ON a.id = s.agreement_id AND a.ends_on > $1::date - 90
    AND a.ends_on > a.starts_on
  CROSS JOIN LATERAL generate_series(date_trunc('month', a.starts_on::timestamp),
    least($2::date, a.ends_on - 1)::timestamp, interval '1 month') AS m
  WHERE extract(month FROM m) = ANY (s.months)
    AND NOT EXISTS (SELECT 1 FROM maintenance_due d
      JOIN ticket t ON t.id = d.ticket_id
      JOIN site_agreement given ON given.id = d.agreement_id
      WHERE given.site_id = a.site_id AND d.due_month = m::date AND t.state <> 'cancelled')
    AND NOT EXISTS (SELECT 1 FROM site_agreement before
      JOIN maintenance_schedule same ON same.agreement_id = before.id
      WHERE before.site_id = a.site_id AND before.starts_on < a.starts_on
        AND before.ends_on > before.starts_on AND before.ends_on > m::date
        AND extract(month FROM m) = ANY (same.months))`;

const DUE = `
  SELECT a.id AS "agreementId", a.site_id AS "siteId", a.plan_code AS "planCode",
    to_char(m, 'YYYY-MM') AS "dueMonth", s.minutes, a.ends_on <= $1::date AS "agreementEnded"
  ${dueSource}
    AND ($3::date IS NULL OR (m::date, a.id) = ($3::date, $4::uuid))
    AND ($5::date IS NULL OR (m::date, a.id) > ($5::date, $6::uuid))
  ORDER BY m, a.id LIMIT $7`;
