import type { z } from 'zod';
import type { PrismaClient } from '../platform/database/generated/client.ts';
import type { glanceSchema } from './contract.ts';

/** The quotes of a site that can be answered: issued, not answered, and their time not over. */
export async function openQuotesAt(
  prisma: Pick<PrismaClient, 'quote'>,
  siteId: string,
  now: Date,
): Promise<z.input<typeof glanceSchema>['openQuotes']> {
  const quotes = await prisma.quote.findMany({
    where: { ticket: { siteId }, states: { some: { state: 'issued' } } },
    orderBy: { number: 'asc' },
    select: {
      id: true,
      number: true,
      ticket: { select: { number: true } },
      states: { where: { state: 'issued' }, select: { revision: true } },
      issues: { where: { validUntil: { gt: now } }, select: { revision: true, validUntil: true } },
      revisions: { select: { number: true, options: inOrder } },
    },
  });
  return quotes.flatMap(({ id, number, ticket, states, issues, revisions }) => {
    // One revision of a quote stands with the customer at a time.
    const standing = states.at(0)?.revision;
    const issue = issues.find(({ revision }) => revision === standing);
    const revision = revisions.find((each) => each.number === standing);
    if (issue === undefined || revision === undefined) return [];
    return {
      id,
      number,
      revision: revision.number,
      ticketNumber: ticket.number,
      validUntil: issue.validUntil.toISOString(),
      options: revision.options,
    };
  });
}

const inOrder = {
  orderBy: { position: 'asc' },
  select: { title: true, totalCents: true },
} as const;
