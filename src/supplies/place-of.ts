import type { Actor } from '../platform/access/actor.ts';
import type { Tx } from '../platform/database/database.ts';
import type { Prisma, StockPlace } from '../platform/database/generated/client.ts';
import { notFound } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';

/**
 * A place that whoever asks may see: a technician the own truck only.
 * @throws ProblemError 404, the same for a place that does not exist and one that is not theirs
 */
export async function placeOf(
  prisma: Pick<Tx, 'stockPlace'>,
  { actor }: Pick<ActContext, 'actor'>,
  id: string,
): Promise<StockPlace> {
  const place = await prisma.stockPlace.findUnique({ where: { id, AND: ownPlaces(actor) } });
  if (place === null) throw notFound('stock place');
  return place;
}

/** Which places are a member of staff's, as a condition to read them by. */
export function ownPlaces({ role, id }: Actor): Prisma.StockPlaceWhereInput {
  return role === 'technician' ? { technicianId: id } : {};
}
