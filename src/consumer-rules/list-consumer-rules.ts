import { cutPage, readOn, startAfter } from '../platform/http/page.ts';
import type { ReadContext } from '../platform/http/route.ts';
import { answerConsumerRule } from './answer-consumer-rule.ts';

/** Which rules are asked for, and from where on. */
export interface AskedRules {
  limit: number;
  cursor?: string | undefined;
  jurisdiction?: string | undefined;
}

/**
 * Rules, oldest first.
 * @throws ProblemError 400 for a cursor of another list
 */
export async function listConsumerRules(
  { prisma }: Pick<ReadContext, 'prisma'>,
  { limit, cursor, jurisdiction }: AskedRules,
) {
  const filter = { list: 'consumer-rules', jurisdiction };
  const { where, orderBy } = readOn('oldest', startAfter(cursor, filter));
  const rows = await prisma.consumerRule.findMany({
    where: { AND: [where, jurisdiction ? { jurisdiction } : {}] },
    orderBy,
    take: limit + 1,
  });
  return cutPage(rows.map(answerConsumerRule), limit, filter);
}
