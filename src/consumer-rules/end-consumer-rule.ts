import { appendJournal } from '../journal/index.ts';
import { dateOfDay } from '../platform/calendar-day.ts';
import type { ConsumerRule } from '../platform/database/generated/client.ts';
import { notFound, ProblemError, wrongField } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';

/**
 * Ends an open-ended rule. Papers issued under it keep its text.
 * @param effectiveTo the first day it no longer holds
 * @throws ProblemError 404, 400 for a day not after its first, 409 when it has its end already
 */
export async function endConsumerRule(
  act: ActContext,
  id: string,
  effectiveTo: string,
): Promise<ConsumerRule> {
  const rule = await act.tx.consumerRule.findUnique({ where: { id } });
  if (rule === null) throw notFound('consumer rule');
  const end = dateOfDay(effectiveTo);
  if (end <= rule.effectiveFrom) {
    throw wrongField('/effectiveTo', 'not_after_start', 'must be after effectiveFrom');
  }
  // The condition settles two who end it at once: the second finds it ended.
  const { count } = await act.tx.consumerRule.updateMany({
    where: { id, effectiveTo: null },
    data: { effectiveTo: end },
  });
  if (count === 0) {
    throw new ProblemError('not-allowed-now', 'This rule has its end already.', {
      currentState: 'ended',
      action: 'end',
      allowedActions: [],
    });
  }
  await appendJournal(act, {
    event: 'consumer_rule.ended',
    subject: { kind: 'consumer_rule', id },
    before: { effectiveTo: null },
    after: { effectiveTo },
  });
  return { ...rule, effectiveTo: end };
}
