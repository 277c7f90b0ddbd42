import { companyOf, localDay } from '../company/index.ts';
import { sqlOf } from '../platform/database/database.ts';
import { wrongField } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';

/** The local days of a tax rule that is to be added; open-ended where it has no end. */
export interface DaysOfRule {
  readonly jurisdiction: string;
  readonly effectiveFrom: string;
  readonly effectiveTo?: string | undefined;
}

/**
 * Refuses a rule that begins before today where bills of its days stand already: they keep the tax
 * that they were issued with, and a rule cannot be taken back.
 * @throws ProblemError 422 with how many those are
 */
export async function refusePastTaxRule(
  act: ActContext,
  { jurisdiction, effectiveFrom, effectiveTo }: DaysOfRule,
): Promise<void> {
  const { timeZone } = await companyOf(act.tx);
  if (effectiveFrom >= localDay(act.now, timeZone)) return;
  const { rows } = await sqlOf(act.tx).query<{ invoices: number }>(INVOICES_OF_DAYS, [
    jurisdiction,
    effectiveFrom,
    effectiveTo ?? null,
  ]);
  const invoices = rows[0]?.invoices ?? 0;
  if (invoices === 0) return;
  const [taxed, stay] =
    invoices === 1
      ? ['1 invoice of those days was', 'It stays as it is']
      : [`${invoices} invoices of those days were`, 'They stay as they are'];
  throw wrongField(
    '/confirmPast',
    'invoices_of_those_days',
    `${taxed} taxed by another rule. ${stay}, and the audit shows what differs. A tax rule cannot be taken back: choose a later day, or send true here to add it all the same.`,
  );
}

// A quote is taxed by the day of its yes, a fee by itself by the day of its visit; nothing is billed
// before either, which leaves out the bills of earlier times at once.
const INVOICES_OF_DAYS = `
  SELECT count(DISTINCT d.invoice_id)::int AS invoices
  FROM invoice_issue x
  CROSS JOIN company c
  JOIN invoice_document d ON d.invoice_id = x.invoice_id AND d.kind <> 'work_not_done'
  JOIN invoice i ON i.id = d.invoice_id
  JOIN ticket t ON t.id = i.ticket_id
  JOIN site s ON s.id = t.site_id AND s.jurisdiction = $1
  LEFT JOIN visit v ON v.id = d.visit_id
  LEFT JOIN quote_acceptance a ON a.quote_id = d.quote_id
  CROSS JOIN LATERAL (SELECT (coalesce(a.accepted_at, v.arrived_at, x.issued_at)
    AT TIME ZONE c.time_zone)::date AS day) taxed_on
  WHERE x.issued_at >= ($2::date::timestamp AT TIME ZONE c.time_zone)
    AND taxed_on.day >= $2::date AND ($3::date IS NULL OR taxed_on.day < $3::date)`;
