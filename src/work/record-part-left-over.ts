import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import type { PartLeftOver } from '../platform/database/generated/client.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { newPartLeftOverSchema } from './contract.ts';
import { takeOfSold } from './take-of-sold.ts';

/**
 * Records a part that was sold and did not go in. It is not billed. It is said once, like an
 * outcome; what is needed after all takes a change order.
 * @throws ProblemError as for a part that went in
 */
export async function recordPartLeftOver(
  act: ActContext,
  visitId: string,
  input: z.output<typeof newPartLeftOverSchema>,
): Promise<PartLeftOver> {
  await takeOfSold(act, visitId, input);
  const { quoteId, findingId, partCode, quantity = null, measured = null, reason } = input;
  const after = { visitId, quoteId, findingId, partCode, quantity, measured };
  const leftOver = await act.tx.partLeftOver.create({
    data: { ...after, reason, id: act.newId(), recordedAt: act.now, recordedById: act.actor.id },
  });
  await appendJournal(act, {
    event: 'part.left_over',
    subject: { kind: 'part_left_over', id: leftOver.id },
    after,
  });
  return leftOver;
}
