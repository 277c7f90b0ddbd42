import type { Tx } from '../platform/database/database.ts';
import type { Prisma } from '../platform/database/generated/client.ts';
import { workKinds } from '../pricing/index.ts';
import { endedStates } from '../tickets/index.ts';

/** What was accepted of a quote and stands: its lines, and whose work was not done after all. */
export type AcceptedDocument = Awaited<ReturnType<typeof acceptedDocuments>>[number];

/**
 * The accepted documents of a ticket that stand, by their numbers, without those whose yes was
 * taken back.
 * @param exceptQuoteId a quote that is looked at against the others
 */
export async function acceptedDocuments(tx: Read, ticketId: string, exceptQuoteId?: string) {
  return documentsThatStand(tx, {
    ticketId,
    ...(exceptQuoteId !== undefined && { id: { not: exceptQuoteId } }),
  });
}

/** Those of the other open tickets of its site. */
export async function acceptedElsewhere(tx: Read, ticketId: string): Promise<AcceptedDocument[]> {
  return documentsThatStand(tx, {
    ticket: {
      id: { not: ticketId },
      state: { notIn: endedStates },
      site: { tickets: { some: { id: ticketId } } },
    },
  });
}

type Read = Pick<Tx, 'quote' | 'quoteLine'>;

async function documentsThatStand(tx: Read, where: Prisma.QuoteWhereInput) {
  const quotes = await tx.quote.findMany({
    where: { ...where, acceptance: { is: { cancellation: { is: null } } } },
    orderBy: { number: 'asc' },
    select: {
      id: true,
      number: true,
      visitId: true,
      ticket: { select: { number: true } },
      acceptance: { select: { optionId: true, outcomes: { where: { strike: null } } } },
    },
  });
  if (quotes.length === 0) return [];
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

/** The findings whose work a document sells. Access is shared, and sells none of them. */
export function soldFindings({ lines }: AcceptedDocument): string[] {
  const work = lines.filter(({ kind }) => workKinds.includes(kind));
  return [...new Set(work.flatMap(({ findingIds }) => findingIds))];
}
