import { appendJournal } from '../journal/index.ts';
import type { ActContext } from '../platform/http/route.ts';
import { answerFlag } from './answer-flag.ts';
import { judgeTickets } from './judge-tickets.ts';
import { nothingKnown } from './known-terms.ts';
import { lockFlag } from './lock-flag.ts';

/**
 * The owner has looked and leaves everything as it is, for a reason that stays on record.
 * @throws ProblemError 404, 412 when somebody was first, 409 for a flag that was answered or holds no
 *   more
 */
export async function dismissFlag(
  act: ActContext,
  flagId: string,
  { reason }: { reason: string },
): Promise<void> {
  const known = nothingKnown();
  const flag = await lockFlag(act, flagId, 'dismiss', known);
  await answerFlag(act, flag, { answer: 'dismissed', reason });
  await appendJournal(act, {
    event: 'audit_flag.dismissed',
    subject: { kind: 'audit_flag', id: flag.id },
    before: { state: 'open' },
    after: { ticketId: flag.ticketId, ruleCode: flag.ruleCode, state: 'dismissed' },
  });
  // Its other flags come to what they do without this one.
  const newId = () => act.newId();
  await judgeTickets({ tx: act.tx, now: act.now, newId, known }, [flag.ticketId]);
}
