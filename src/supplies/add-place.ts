import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import type { StockPlace } from '../platform/database/generated/client.ts';
import type { ActContext } from '../platform/http/route.ts';
import { requireTechnician } from '../staff/index.ts';
import type { newPlaceSchema } from './contract.ts';
import { orTaken } from './or-taken.ts';

/**
 * Adds shelves or a truck.
 * @throws ProblemError 409 for a name that is taken or a technician who has a truck, 422 for a
 *   technician who does not exist
 */
export async function addPlace(
  act: ActContext,
  { name, kind, technicianId }: z.output<typeof newPlaceSchema>,
): Promise<StockPlace> {
  if (technicianId !== undefined) await requireTechnician(act, technicianId);
  const place = await orTaken(
    act.tx.stockPlace.create({
      data: {
        id: act.newId(),
        name,
        kind,
        technicianId: technicianId ?? null,
        createdAt: act.now,
      },
    }),
  );
  await appendJournal(act, {
    event: 'stock_place.added',
    subject: { kind: 'stock_place', id: place.id },
    after: { name, kind, technicianId: place.technicianId },
  });
  return place;
}
