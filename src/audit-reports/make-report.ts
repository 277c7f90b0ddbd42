import { journalTip } from '../journal/index.ts';
import type { ReadContext } from '../platform/http/route.ts';
import { bookBesideWork } from './book-beside-work.ts';
import type { AuditReport } from './contract.ts';
import { namesOf } from './names-of.ts';
import { patternsOfPeriod } from './patterns-of-period.ts';
import { type Period, periodOf } from './period.ts';
import { readingsOfPeriod } from './readings-of-period.ts';
import { rulesOfPeriod } from './rules-of-period.ts';

/** What is asked for: local days, both included. */
export interface AskedPeriod {
  readonly from: string;
  readonly to: string;
}

/**
 * What the owner reads of the jobs that ended within a period.
 * @throws ProblemError 409 without a price book in force, 422 for a period that ends before it begins
 */
export async function makeReport(
  context: Pick<ReadContext, 'prisma' | 'sql' | 'now'>,
  asked: AskedPeriod,
): Promise<{ report: AuditReport; period: Period }> {
  const { sql, now } = context;
  const period = await periodOf(context, asked);
  const totals = await sql.query<Pick<AuditReport, 'jobs' | 'billedCents' | 'openCents'>>(TOTALS, [
    period.from,
    period.to,
  ]);
  const [whole = { jobs: 0, billedCents: 0, openCents: 0 }] = totals.rows;
  const nameOf = await namesOf(sql);
  const report = {
    ...{ from: period.firstDay, to: period.lastDay, madeAt: now.toISOString() },
    ...whole,
    rules: await rulesOfPeriod(sql, period),
    ...(await patternsOfPeriod(sql, period, nameOf)),
    book: await bookBesideWork(context, period),
    readings: await readingsOfPeriod(sql, period, (id) => nameOf('technician', id)),
    journal: await journalTip(sql),
  };
  return { report, period };
}

const TOTALS = `
  SELECT count(*)::int AS jobs, coalesce(sum(j.over_cents), 0)::float8 AS "openCents",
    coalesce(sum((SELECT sum(i.total_cents) FROM invoice n
      JOIN invoice_issue i ON i.invoice_id = n.id WHERE n.ticket_id = j.ticket_id)), 0)::float8
      AS "billedCents"
  FROM audit_judgement j WHERE j.ended_at >= $1 AND j.ended_at < $2`;
