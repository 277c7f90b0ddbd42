import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import type { StockPlace } from '../platform/database/generated/client.ts';
import { notFound, wrongField } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { requireTechnician } from '../staff/index.ts';
import { answerPlace } from './answer-place.ts';
import type { placeChangeSchema } from './contract.ts';
import { lockPlace } from './lock-place.ts';
import { orTaken } from './or-taken.ts';

/**
 * Renames a place, or gives a truck to another technician or to none.
 * @throws ProblemError 400 for shelves of a technician, 404, 409 for a name that is taken or a
 *   technician who has a truck, 412 when somebody else changed it first, 422
 */
export async function changePlace(
  act: ActContext,
  id: string,
  change: z.output<typeof placeChangeSchema>,
): Promise<StockPlace> {
  // Two changes that arrive together wait for each other; the second then fails its If-Match.
  await lockPlace(act, id);
  const before = await act.tx.stockPlace.findUnique({ where: { id } });
  if (before === null) throw notFound('stock place');
  act.mustMatch(answerPlace(before).etag);
  if (change.technicianId) {
    if (before.kind !== 'truck') {
      throw wrongField('/technicianId', 'not_a_truck', 'is for trucks: shelves are nobody’s');
    }
    await requireTechnician(act, change.technicianId);
  }
  const { name = before.name, technicianId = before.technicianId } = change;
  const data = { name, technicianId };
  const after = await orTaken(act.tx.stockPlace.update({ where: { id }, data }));
  await appendJournal(act, {
    event: 'stock_place.changed',
    subject: { kind: 'stock_place', id },
    before: { name: before.name, technicianId: before.technicianId },
    after: data,
  });
  return after;
}
