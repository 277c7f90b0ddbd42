import type { JobWork } from '../auditing/index.ts';
import { instantOf } from './instant-of.ts';
import { rowsBy } from './rows-by.ts';

/**
 * What was recorded of the work under yeses that stand, without what was struck out.
 * @returns for the identifier of a ticket
 */
export function readWork(rows: {
  readonly outcomes: readonly OutcomeRow[];
  readonly uses: readonly UseRow[];
}): (ticketId: string) => JobWork {
  const outcomesOf = rowsBy(rows.outcomes, ({ ticketId }) => ticketId);
  const usesOf = rowsBy(rows.uses, ({ ticketId }) => ticketId);
  return (ticketId) => ({
    outcomes: outcomesOf(ticketId).map(withoutTicket),
    uses: usesOf(ticketId).map(withoutTicket),
  });
}

type OfTicket<Fact> = Fact & { readonly ticketId: string };
export type OutcomeRow = OfTicket<JobWork['outcomes'][number]>;
export type UseRow = OfTicket<JobWork['uses'][number]>;

function withoutTicket<Row extends { ticketId: string; recordedAt: string }>({
  ticketId: _,
  recordedAt,
  ...fact
}: Row): Omit<Row, 'ticketId' | 'recordedAt'> & { recordedAt: string } {
  return { ...fact, recordedAt: instantOf(recordedAt) };
}

export const OUTCOMES = `
  SELECT q.ticket_id AS "ticketId", w.quote_id AS "quoteId", w.finding_id AS "findingId", w.outcome,
    w.recorded_at AS "recordedAt", w.visit_id AS "visitId"
  FROM quote q JOIN standing_outcome w ON w.quote_id = q.id
  WHERE q.ticket_id = ANY ($1)
    AND NOT EXISTS (SELECT 1 FROM acceptance_cancellation x WHERE x.quote_id = q.id)
  ORDER BY w.id`;

export const USES = `
  SELECT q.ticket_id AS "ticketId", u.quote_id AS "quoteId", u.finding_id AS "findingId",
    u.part_code AS "partCode", coalesce(u.quantity, trim_scale(u.measured))::text AS quantity,
    u.recorded_at AS "recordedAt", u.visit_id AS "visitId"
  FROM quote q JOIN part_use u ON u.quote_id = q.id
  WHERE q.ticket_id = ANY ($1)
    AND NOT EXISTS (SELECT 1 FROM acceptance_cancellation x WHERE x.quote_id = q.id)
    AND NOT EXISTS (SELECT 1 FROM work_strike s WHERE s.part_use_id = u.id)
  ORDER BY u.id`;
