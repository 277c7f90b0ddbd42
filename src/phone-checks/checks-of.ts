import type { z } from 'zod';
import type { ReadContext, Reply } from '../platform/http/route.ts';
import { ticketOf } from '../tickets/index.ts';
import { checkBody } from './answer-check.ts';
import { checkTag } from './check-tag.ts';
import type { phoneChecksSchema } from './contract.ts';
import { learnedSince } from './learned-since.ts';
import { withAnswers } from './whole-check.ts';
import { withSaid } from './with-said.ts';

/**
 * Every dialogue of a ticket that whoever asks may see, the latest first, under the tag of the latest.
 * @throws ProblemError 404 for a ticket that is not theirs to see
 */
export async function checksOf(
  context: ReadContext,
  ticketId: string,
): Promise<Reply<z.input<typeof phoneChecksSchema>>> {
  const { prisma } = context;
  const ticket = await ticketOf(prisma, context, ticketId);
  const checks = await prisma.phoneCheck.findMany({
    where: { ticketId: ticket.id },
    orderBy: { run: 'desc' },
    include: withAnswers,
  });
  const [latest] = checks;
  const learned = latest === undefined ? [] : await learnedSince(context, ticket.siteId, latest);
  const open = checks.find(
    ({ dangerCode, dangerOverAt }) => dangerCode !== null && dangerOverAt === null,
  );
  return {
    body: {
      ticketId,
      openDanger: open?.dangerCode ?? null,
      checks: checks.map((each) =>
        checkBody(each === latest ? withSaid(each, learned, context) : each),
      ),
    },
    etag: checkTag(latest, learned),
  };
}
