import type { z } from 'zod';
import type { Sql } from '../platform/database/database.ts';
import { notFound } from '../platform/http/problem.ts';
import type { ReadContext } from '../platform/http/route.ts';
import { ownTickets } from '../staff/index.ts';
import { paperKindSchema, type paperSchema } from './contract.ts';
import { editionOf, tellsOf } from './paper-row.ts';

/**
 * The papers of a ticket, oldest first.
 * @throws ProblemError 404 for a ticket that is not theirs
 */
export async function listPapers(
  { prisma, sql, actor }: Pick<ReadContext, 'prisma' | 'sql' | 'actor'>,
  ticketId: string,
): Promise<z.input<typeof paperSchema>[]> {
  const own = await prisma.ticket.count({ where: { id: ticketId, AND: ownTickets(actor) } });
  if (own === 0) throw notFound('ticket');
  const rows = await prisma.paper.findMany({
    where: { ticketId },
    include: tellsOf,
    orderBy: [{ issuedAt: 'asc' }, { id: 'asc' }],
  });
  const languages = await languagesOf(sql, ticketId);
  return rows.map((row) => ({
    id: row.id,
    ticketId,
    kind: paperKindSchema.parse(row.kind),
    number: row.number,
    edition: editionOf(row),
    issuedAt: row.issuedAt.toISOString(),
    languages: languages.has(row.id) ? ['en', 'es'] : ['en'],
  }));
}

/** The papers of a ticket that are there in Spanish too; one whose record is yet to be made will be. */
async function languagesOf(sql: Sql, ticketId: string): Promise<ReadonlySet<string>> {
  const { rows } = await sql.query<{ id: string }>(IN_SPANISH, [ticketId]);
  return new Set(rows.map(({ id }) => id));
}

const IN_SPANISH = `
  SELECT p.id FROM paper p
  LEFT JOIN quote_revision r ON r.id = p.revision_id
  LEFT JOIN quote_acceptance a ON a.quote_id = p.acceptance_of
  LEFT JOIN quote_decline d ON d.quote_id = p.decline_of
  LEFT JOIN quote_issue q ON q.quote_id = coalesce(r.quote_id, a.quote_id, d.quote_id)
    AND q.revision = coalesce(r.number, a.revision, d.revision)
  LEFT JOIN invoice_issue i ON i.invoice_id = p.invoice_id
  LEFT JOIN credit_memo m ON m.id = p.memo_id
  WHERE p.ticket_id = $1 AND (p.closing_id IS NOT NULL
    OR coalesce(q.paper, i.paper, m.paper) -> 'inSpanish' IS NOT NULL)`;
