import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { type PartUse, Prisma } from '../platform/database/generated/client.ts';
import { ProblemError, unknownReference, wrongField } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { usePart } from '../supplies/index.ts';
import { requireAgreed, type SoldLine } from './agreed-work.ts';
import type { newPartUseSchema } from './contract.ts';
import { lockWork } from './lock-work.ts';

type NewPartUse = z.output<typeof newPartUseSchema>;

/**
 * Records a part that went in under a yes, and what became of the old one; the stock of the place
 * it was taken from goes down with it. Never more than was sold: more needs a change order.
 * @throws ProblemError 400 for pieces measured or the other way round, 404, 409 when nothing was
 *   agreed to, as much as was sold is used already or the ticket is not open, 422 for a part that
 *   the yes does not sell for that finding
 */
export async function recordPartUse(
  act: ActContext,
  visitId: string,
  input: NewPartUse,
): Promise<PartUse> {
  const { quoteId, findingId, partCode } = input;
  const { ticket } = await lockWork(act, visitId);
  const agreed = await requireAgreed(act, ticket.id, input);
  const line = agreed.lines.find(
    ({ kind, code, findingIds }) =>
      kind !== 'labor' && code === partCode && findingIds.includes(findingId),
  );
  if (line === undefined) {
    throw unknownReference('/partCode', 'The accepted option has no such part for this finding.');
  }
  const quantity = quantityOf(input, line);
  await refuseMoreThanSold(act, quoteId, line, quantity);
  const use = await store(act, visitId, input);
  if (input.stockPlaceId !== undefined) {
    await usePart(act, input.stockPlaceId, { visitId, partCode, quantity: quantity.toFixed() });
  }
  return use;
}

/**
 * How much was used, in the way that it was sold.
 * @throws ProblemError 400 for the other way
 */
function quantityOf({ quantity, measured }: NewPartUse, line: SoldLine): Prisma.Decimal {
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
  const uses = await tx.partUse.findMany({
    where: { quoteId, partCode: line.code, findingId: { in: line.findingIds } },
    select: { quantity: true, measured: true },
  });
  const sold = amountOf(line);
  const used = uses.reduce((sum, use) => sum.plus(amountOf(use)), new Prisma.Decimal(0));
  if (used.plus(quantity).lte(sold)) return;
  throw new ProblemError(
    'not-allowed-now',
    `Sold were ${sold.toFixed()}, and ${used.toFixed()} are used. More needs a change order.`,
    {
      currentState: 'accepted',
      allowedActions: [],
      soldQuantity: sold.toFixed(),
      usedQuantity: used.toFixed(),
    },
  );
}

/** Pieces or what was measured, whichever it has. */
export function amountOf(of: {
  quantity: number | null;
  measured: Prisma.Decimal | null;
}): Prisma.Decimal {
  return of.measured ?? new Prisma.Decimal(of.quantity ?? 0);
}

async function store(act: ActContext, visitId: string, input: NewPartUse): Promise<PartUse> {
  const { quoteId, findingId, partCode, oldPart } = input;
  const after = {
    visitId,
    quoteId,
    findingId,
    partCode,
    quantity: input.quantity ?? null,
    measured: input.measured ?? null,
    serial: input.serial ?? null,
    oldPart,
    oldSerial: input.oldSerial ?? null,
  };
  const use = await act.tx.partUse.create({
    data: { ...after, id: act.newId(), recordedAt: act.now, recordedById: act.actor.id },
  });
  await appendJournal(act, {
    event: 'part.used',
    subject: { kind: 'part_use', id: use.id },
    after,
  });
  return use;
}
