import { appendJournal } from '../journal/index.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { lockLatestCheck } from './latest-check.ts';
import { saltOfCaller } from './salt-of-caller.ts';
import { type WholeCheck, withAnswers } from './whole-check.ts';

/**
 * Records how a person knows that the danger is over; from then on somebody may be sent, and the
 * dialogue begun again.
 * @throws ProblemError 409 unless the latest dialogue stopped in danger that is not over, 412 where it
 *   changed meanwhile
 */
export async function recordDangerOver(
  act: ActContext,
  ticketId: string,
  note: string,
): Promise<WholeCheck> {
  const { ticket, check } = await lockLatestCheck(act, ticketId);
  const { dangerCode, dangerOverAt, outcome } = check;
  if (dangerCode === null || dangerOverAt !== null) {
    throw new ProblemError('not-allowed-now', 'No danger is open here.', {
      currentState: dangerOverAt === null ? (outcome ?? 'open') : 'danger_over',
      action: 'record_danger_over',
      allowedActions: outcome === null ? ['answer', 'end'] : ['start'],
    });
  }
  const over = await act.tx.phoneCheck.update({
    where: { id: check.id },
    data: { dangerOverAt: act.now, dangerOverNote: note, dangerOverById: act.actor.id },
    include: withAnswers,
  });
  await appendJournal(act, {
    event: 'phone_check.danger_over',
    subject: { kind: 'phone_check', id: check.id },
    after: { dangerCode },
    personal: { salt: await saltOfCaller(act, ticket), after: { note } },
  });
  return over;
}
