import type { Tx } from '../platform/database/database.ts';

/** What was accepted of a quote and stands: its lines, and whose work was not done after all. */
export type AcceptedDocument = Awaited<ReturnType<typeof acceptedDocuments>>[number];

/**
 * The accepted documents of a ticket that stand, by their numbers, without those whose yes was
 * taken back.
 * @param exceptQuoteId a quote that is looked at against the others
 */
export async function acceptedDocuments(
  tx: Pick<Tx, 'quote' | 'quoteLine'>,
  ticketId: string,
  exceptQuoteId?: string,
) {
  const quotes = await tx.quote.findMany({
    where: {
      ticketId,
      acceptance: { is: { cancellation: { is: null } } },
      ...(exceptQuoteId !== undefined && { id: { not: exceptQuoteId } }),
    },
    orderBy: { number: 'asc' },
    select: {
      id: true,
      number: true,
      visitId: true,
      acceptance: { select: { optionId: true, outcomes: true } },
    },
  });
  const lines = await tx.quoteLine.findMany({
    where: { optionId: { in: quotes.flatMap(({ acceptance }) => acceptance?.optionId ?? []) } },
    orderBy: { position: 'asc' },
  });
  return quotes.map(({ acceptance, ...quote }) => ({
    ...quote,
    lines: lines.filter(({ optionId }) => optionId === acceptance?.optionId),
    outcomes: new Map(
      acceptance?.outcomes.map(({ findingId, outcome }) => [findingId, outcome] as const),
    ),
  }));
}

const WORK_KINDS = ['part', 'good', 'labor'];

/** The findings whose work a document sells. Access is shared, and sells none of them. */
export function soldFindings({ lines }: AcceptedDocument): string[] {
  const work = lines.filter(({ kind }) => WORK_KINDS.includes(kind));
  return [...new Set(work.flatMap(({ findingIds }) => findingIds))];
}
