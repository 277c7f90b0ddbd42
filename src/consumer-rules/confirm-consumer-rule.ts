import { appendJournal } from '../journal/index.ts';
import type { ConsumerRule } from '../platform/database/generated/client.ts';
import { notFound, ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';

/**
 * Notes that counsel has confirmed a rule, once.
 * @throws ProblemError 404, 409 when it was confirmed before
 */
export async function confirmConsumerRule(
  act: ActContext,
  id: string,
  confirmedBy: string,
): Promise<ConsumerRule> {
  const rule = await act.tx.consumerRule.findUnique({ where: { id } });
  if (rule === null) throw notFound('consumer rule');
  const { count } = await act.tx.consumerRule.updateMany({
    where: { id, confirmedBy: null },
    data: { confirmedBy },
  });
  if (count === 0) {
    throw new ProblemError('already-exists', 'This rule was confirmed before.');
  }
  await appendJournal(act, {
    event: 'consumer_rule.confirmed',
    subject: { kind: 'consumer_rule', id },
    after: { standing: 'confirmed_by_counsel' },
  });
  return { ...rule, confirmedBy };
}
