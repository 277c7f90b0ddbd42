import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import type { PartUse } from '../platform/database/generated/client.ts';
import type { ActContext } from '../platform/http/route.ts';
import { usePart } from '../supplies/index.ts';
import type { newPartUseSchema } from './contract.ts';
import { refuseUnweighed } from './refuse-unweighed.ts';
import { takeOfSold } from './take-of-sold.ts';

type NewPartUse = z.output<typeof newPartUseSchema>;

/**
 * Records a part that went in under a yes, and what became of the old one; the stock of the place
 * it was taken from goes down with it. Never more than was sold: more needs a change order; and of
 * refrigerant never more than the scale says.
 * @throws ProblemError 400 for pieces measured or the other way round, 404, 409 when nothing was
 *   agreed to, as much as was sold is used already, it was not weighed, or the ticket is not open, 422 for a part that
 *   the yes does not sell for that finding
 */
export async function recordPartUse(
  act: ActContext,
  visitId: string,
  input: NewPartUse,
): Promise<PartUse> {
  const { ticket, line, quantity } = await takeOfSold(act, visitId, input);
  await refuseUnweighed(act, ticket, line, { findingId: input.findingId, quantity });
  const stockMoveId = await takeFromStock(act, visitId, input, quantity.toFixed());
  return store(act, visitId, input, stockMoveId);
}

async function takeFromStock(
  act: ActContext,
  visitId: string,
  { stockPlaceId, partCode }: NewPartUse,
  quantity: string,
): Promise<string | null> {
  if (stockPlaceId === undefined) return null;
  const { move } = await usePart(act, stockPlaceId, { visitId, partCode, quantity });
  return move.id;
}

async function store(
  act: ActContext,
  visitId: string,
  input: NewPartUse,
  stockMoveId: string | null,
): Promise<PartUse> {
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
    data: {
      ...after,
      stockMoveId,
      id: act.newId(),
      recordedAt: act.now,
      recordedById: act.actor.id,
    },
  });
  await appendJournal(act, {
    event: 'part.used',
    subject: { kind: 'part_use', id: use.id },
    after,
  });
  return use;
}
