import { notFound } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { ownVisits } from '../staff/index.ts';

/**
 * Lets a technician act on quotes of own visits only.
 * @throws ProblemError 404, the same for a quote that does not exist and one of another technician
 */
export async function requireOwn(act: ActContext, quoteId: string): Promise<void> {
  const quote = await act.tx.quote.findUnique({
    where: { id: quoteId, visit: ownVisits(act.actor) },
    select: { id: true },
  });
  if (quote === null) throw notFound('quote');
}
