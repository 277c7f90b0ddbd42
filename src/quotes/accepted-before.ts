import { undoneDocument } from '../billing/index.ts';
import type { Tx } from '../platform/database/database.ts';
import type { Prisma } from '../platform/database/generated/client.ts';
import { cents, pricingInputsSchema } from '../pricing/index.ts';

/**
 * What the yeses that stand on a ticket come to beside one of its quotes, less what was put on
 * record as not done: what is sold again must not count twice. A quote of which nothing was done
 * counts with its fee, which is owed all the same. The approver's limit is one of the whole job.
 */
export async function acceptedBeforeCents(
  tx: Pick<Tx, 'quoteAcceptance' | 'quoteOption'>,
  { id, ticketId }: { id: string; ticketId: string },
): Promise<number> {
  const yeses = await tx.quoteAcceptance.findMany({
    where: { quoteId: { not: id }, quote: { ticketId }, cancellation: { is: null } },
    select: {
      optionId: true,
      totalCents: true,
      outcomes: { where: { outcome: 'not_done', strike: null }, select: { findingId: true } },
    },
  });
  let sumCents = 0;
  for (const { optionId, totalCents, outcomes } of yeses) {
    const undone = outcomes.map(({ findingId }) => findingId);
    sumCents += undone.length === 0 ? totalCents : await leftCents(tx, optionId, undone);
  }
  return sumCents;
}

/** What an accepted option still comes to without the work that was not done. */
async function leftCents(
  tx: Pick<Tx, 'quoteOption'>,
  optionId: string,
  undoneFindingIds: string[],
): Promise<number> {
  const option = await tx.quoteOption.findUniqueOrThrow({
    where: { id: optionId },
    include: WHOLE,
  });
  const undone = undoneDocument(acceptedWork(option), { undoneFindingIds, used: [] });
  switch (undone.outcome) {
    case 'nothing':
      return option.totalCents;
    case 'everything':
      return option.revision.declineTotalCents;
    case 'some':
      return option.totalCents + undone.document.totalCents;
  }
}

const WHOLE = {
  lines: { orderBy: { position: 'asc' } },
  revision: true,
} satisfies Prisma.QuoteOptionInclude;

function acceptedWork({
  position,
  lines,
  revision,
}: Prisma.QuoteOptionGetPayload<{ include: typeof WHOLE }>) {
  return {
    inputs: pricingInputsSchema.parse(revision.inputs),
    rulesetVersion: revision.rulesetVersion,
    optionAt: position - 1,
    lines: lines.map((line) => ({ ...line, amountCents: cents(line.amountCents) })),
  };
}
