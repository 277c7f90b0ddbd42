import { Prisma, type Ticket } from '../platform/database/generated/client.ts';
import { ProblemError, unknownReference, wrongField } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { requireAgreed, type SoldLine } from './agreed-work.ts';
import { lockWork } from './lock-work.ts';
import { refuseNobodyThere } from './refuse-nobody-there.ts';

/** Some of a part, or of goods sold by measure, under a yes. */
export interface SomeOfSold {
  quoteId: string;
  findingId: string;
  partCode: string;
  quantity?: number | undefined;
  measured?: string | undefined;
}

/**
 * Makes sure, with the ticket locked, that so much more of a part can go in or stay over under a
 * yes: what went in and what stayed over never come to more than was sold. More needs a change
 * order.
 * @throws ProblemError 400 for pieces measured or the other way round, 404, 409 when nothing was
 *   agreed to, the visit was over before the yes, the work is recorded as not done, as much as was sold is on record already or the
 *   ticket is not open, 422 for a part that the yes does not sell for that finding
 */
export async function takeOfSold(
  act: ActContext,
  visitId: string,
  input: SomeOfSold,
): Promise<{ ticket: Ticket; line: SoldLine; quantity: Prisma.Decimal }> {
  const { visit, ticket } = await lockWork(act, visitId);
  const agreed = await requireAgreed(act, ticket.id, input);
  refuseNobodyThere(visit, agreed);
  const line = agreed.lines.find(
    ({ kind, code, findingIds }) =>
      kind !== 'labor' && code === input.partCode && findingIds.includes(input.findingId),
  );
  if (line === undefined) {
    throw unknownReference('/partCode', 'The accepted option has no such part for this finding.');
  }
  await refuseNotDone(act, input);
  const quantity = quantityOf(input, line);
  await refuseMoreThanSold(act, input.quoteId, line, quantity);
  return { ticket, line, quantity };
}

/** No part goes into work that was not done, and what it would have needed is not billed anyway. */
async function refuseNotDone(
  { tx }: ActContext,
  { quoteId, findingId }: SomeOfSold,
): Promise<void> {
  const outcome = await tx.workOutcome.findFirst({
    where: { quoteId, findingId, outcome: 'not_done', strike: null },
    select: { reason: true },
  });
  if (outcome === null) return;
  throw new ProblemError(
    'not-allowed-now',
    `This work is recorded as not done: ${outcome.reason} If that is wrong, strike it out.`,
    { currentState: 'not_done', allowedActions: [] },
  );
}

/**
 * How much of it, in the way that it was sold.
 * @throws ProblemError 400 for the other way
 */
function quantityOf({ quantity, measured }: SomeOfSold, line: SoldLine): Prisma.Decimal {
  if (line.measured === null && quantity === undefined) {
    throw wrongField('/measured', 'sold_in_pieces', 'is for goods sold by measure: count this one');
  }
  if (line.measured !== null && measured === undefined) {
    throw wrongField('/quantity', 'sold_by_measure', 'is for pieces: say what was measured');
  }
  return new Prisma.Decimal(measured ?? quantity ?? 0);
}

async function refuseMoreThanSold(
  { tx }: ActContext,
  quoteId: string,
  line: SoldLine,
  quantity: Prisma.Decimal,
): Promise<void> {
  const of = {
    where: { quoteId, partCode: line.code, findingId: { in: line.findingIds }, strike: null },
    select: { quantity: true, measured: true },
  };
  const used = sumOf(await tx.partUse.findMany(of));
  const leftOver = sumOf(await tx.partLeftOver.findMany(of));
  const sold = amountOf(line);
  if (used.plus(leftOver).plus(quantity).lte(sold)) return;
  const [soldQuantity, usedQuantity, leftOverQuantity] = [sold, used, leftOver].map((each) =>
    each.toFixed(),
  );
  throw new ProblemError(
    'not-allowed-now',
    `Sold: ${soldQuantity}. On record: ${usedQuantity} used, ${leftOverQuantity} left over. More needs a change order.`,
    {
      currentState: 'accepted',
      allowedActions: [],
      soldQuantity,
      usedQuantity,
      leftOverQuantity,
    },
  );
}

function sumOf(amounts: readonly Amount[]): Prisma.Decimal {
  return amounts.reduce((sum, each) => sum.plus(amountOf(each)), new Prisma.Decimal(0));
}

interface Amount {
  quantity: number | null;
  measured: Prisma.Decimal | null;
}

/** Pieces or what was measured, whichever it has. */
function amountOf(of: Amount): Prisma.Decimal {
  return of.measured ?? new Prisma.Decimal(of.quantity ?? 0);
}
