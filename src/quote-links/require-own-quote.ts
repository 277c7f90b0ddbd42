import type { Actor } from '../platform/access/actor.ts';
import type { Tx } from '../platform/database/database.ts';
import { notFound } from '../platform/http/problem.ts';
import { ownVisits } from '../staff/index.ts';

/**
 * Lets a technician see and make links of own visits' quotes only.
 * @throws ProblemError 404, the same for what does not exist and what is not theirs
 */
export async function requireOwnQuote(
  prisma: Pick<Tx, 'quote'>,
  actor: Actor,
  quoteId: string,
): Promise<void> {
  const quote = await prisma.quote.findUnique({
    where: { id: quoteId, visit: ownVisits(actor) },
    select: { id: true },
  });
  if (quote === null) throw notFound('quote');
}
