import type { z } from 'zod';
import type { ReadContext } from '../platform/http/route.ts';
import { answerLinks } from './answer-links.ts';
import type { linkSchema } from './contract.ts';
import { openFacts } from './open-until.ts';
import { requireOwnQuote } from './require-own-quote.ts';

/**
 * The links of a quote, newest first; of very many only the newest hundred.
 * @throws ProblemError 404 for an unknown quote or one of another technician
 */
export async function listLinks(
  { prisma, actor }: Pick<ReadContext, 'prisma' | 'actor'>,
  quoteId: string,
): Promise<z.input<typeof linkSchema>[]> {
  await requireOwnQuote(prisma, actor, quoteId);
  const links = await prisma.quoteLink.findMany({
    where: { quoteId },
    include: openFacts,
    orderBy: [{ createdAt: 'desc' }, { id: 'desc' }],
    take: 100,
  });
  return answerLinks(prisma, links);
}
