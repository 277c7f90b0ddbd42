import type { Sql } from '../platform/database/database.ts';
import type { AuditReport } from './contract.ts';
import type { Period } from './period.ts';

/**
 * What the imported bills of a period come to, by where they come from; none where there are none. They
 * are no jobs of ours: what they say is no evidence, so they are counted with none.
 */
export async function importedBillsOfPeriod(
  sql: Sql,
  { firstDay, lastDay }: Pick<Period, 'firstDay' | 'lastDay'>,
): Promise<AuditReport['importedBills']> {
  const found = await sql.query<AuditReport['importedBills'][number]>(BILLS, [firstDay, lastDay]);
  return found.rows;
}

// Sums of as many amounts below two billion cents as there may be are exact as floating numbers.
const BILLS = `
  SELECT i.origin, count(*)::int AS bills, sum(b.charged_cents)::float8 AS "chargedCents",
    count(*) FILTER (WHERE b.flag_count > 0)::int AS flagged, sum(b.over_cents)::float8 AS "overCents",
    count(*) FILTER (WHERE b.ruleset_version <> 'none' AND b.judgement ->> 'fair' IS NULL)::int
      AS "notPriced",
    count(*) FILTER (WHERE b.ruleset_version = 'none')::int AS "notLookedAt"
  FROM imported_bill b JOIN bill_import i ON i.id = b.import_id
  WHERE b.billed_on BETWEEN $1::date AND $2::date
  GROUP BY i.origin ORDER BY i.origin DESC`;
