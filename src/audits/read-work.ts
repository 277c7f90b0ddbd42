import type { JobWork } from '../auditing/index.ts';
import type { Sql } from '../platform/database/database.ts';
import { rowsBy } from './rows-by.ts';

/**
 * What was recorded of the work under yeses that stand, without what was struck out.
 * @returns for the identifier of a ticket
 */
export async function readWork(
  sql: Sql,
  ticketIds: readonly string[],
): Promise<(ticketId: string) => JobWork> {
  const outcomes = await sql.query<OutcomeRow>(OUTCOMES, [ticketIds]);
  const uses = await sql.query<UseRow>(USES, [ticketIds]);
  const outcomesOf = rowsBy(outcomes.rows, ({ ticketId }) => ticketId);
  const usesOf = rowsBy(uses.rows, ({ ticketId }) => ticketId);
  return (ticketId) => ({
    outcomes: outcomesOf(ticketId).map(withoutTicket),
    uses: usesOf(ticketId).map(withoutTicket),
  });
}

type Recorded<Fact extends { recordedAt: string }> = Omit<Fact, 'recordedAt'> & {
  ticketId: string;
  recordedAt: Date;
};
type OutcomeRow = Recorded<JobWork['outcomes'][number]>;
type UseRow = Recorded<JobWork['uses'][number]>;

function withoutTicket<Row extends { ticketId: string; recordedAt: Date }>({
  ticketId: _,
  recordedAt,
  ...fact
}: Row): Omit<Row, 'ticketId' | 'recordedAt'> & { recordedAt: string } {
  return { ...fact, recordedAt: recordedAt.toISOString() };
}

const OUTCOMES = `
  SELECT q.ticket_id AS "ticketId", w.quote_id AS "quoteId", w.finding_id AS "findingId", w.outcome,
    w.recorded_at AS "recordedAt"
  FROM quote q JOIN standing_outcome w ON w.quote_id = q.id
  WHERE q.ticket_id = ANY ($1)
    AND NOT EXISTS (SELECT 1 FROM acceptance_cancellation x WHERE x.quote_id = q.id)
  ORDER BY w.id`;

const USES = `
  SELECT q.ticket_id AS "ticketId", u.quote_id AS "quoteId", u.finding_id AS "findingId",
    u.part_code AS "partCode", coalesce(u.quantity, trim_scale(u.measured))::text AS quantity,
    u.recorded_at AS "recordedAt"
  FROM quote q JOIN part_use u ON u.quote_id = q.id
  WHERE q.ticket_id = ANY ($1)
    AND NOT EXISTS (SELECT 1 FROM acceptance_cancellation x WHERE x.quote_id = q.id)
    AND NOT EXISTS (SELECT 1 FROM work_strike s WHERE s.part_use_id = u.id)
  ORDER BY u.id`;
