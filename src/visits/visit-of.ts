import type { Tx } from '../platform/database/database.ts';
import type { Visit } from '../platform/database/generated/client.ts';
import { notFound } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { ownVisits } from '../staff/index.ts';

/**
 * A visit that whoever asks may see.
 * @throws ProblemError 404, the same for a visit that does not exist and one of another technician
 */
export async function visitOf(
  prisma: Pick<Tx, 'visit'>,
  asker: Pick<ActContext, 'actor'>,
  id: string,
): Promise<Visit> {
  const visit = await prisma.visit.findUnique({ where: { id, AND: ownVisits(asker.actor) } });
  if (visit === null) throw notFound('visit');
  return visit;
}
