import type { Actor } from '../platform/access/actor.ts';
import type { Tx } from '../platform/database/database.ts';
import { notFound } from '../platform/http/problem.ts';

/**
 * Lets a technician see and make links of own visits' quotes only.
 * @param what is looked for, for the refusal
 * @throws ProblemError 404, the same for what does not exist and what is not theirs
 */
export async function requireOwnQuote(
  prisma: Pick<Tx, 'quote'>,
  actor: Actor,
  quoteId: string | undefined,
  what: 'quote' | 'link',
): Promise<void> {
  if (quoteId === undefined) throw notFound(what);
  const quote = await prisma.quote.findUnique({
    where: { id: quoteId },
    select: { visit: { select: { technicianId: true } } },
  });
  const isForeign = actor.role === 'technician' && quote?.visit.technicianId !== actor.id;
  if (quote === null || isForeign) throw notFound(what);
}
