import type { PartWait } from '../platform/database/generated/client.ts';
import { versionTag } from '../platform/http/etag.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { lockTicket, ticketRequests } from '../tickets/index.ts';
import { type PartPromise, recordPartWait } from './record-part-wait.ts';

/**
 * Records a new day that the customer was told for a part, or another part it waits for. The ticket
 * gets a new version, so that two who call the customer at once do not promise two days unseen.
 * @throws ProblemError 404, 409 unless the ticket waits for a part, 412 when somebody was faster,
 *   400 for a day that is over, 422 for an unknown part
 */
export async function promisePart(
  act: ActContext,
  ticketId: string,
  promise: PartPromise,
): Promise<PartWait> {
  const ticket = await lockTicket(act, ticketId);
  act.mustMatch(versionTag(ticket.version));
  if (ticket.state !== 'waiting_for_part') {
    throw new ProblemError('not-allowed-now', 'This ticket is not waiting for a part.', {
      currentState: ticket.state,
      action: 'promise_part',
      allowedActions: ticketRequests(ticket.state),
    });
  }
  const wait = await recordPartWait(act, { ticketId }, promise, '');
  await act.tx.ticket.update({
    where: { id: ticketId },
    data: { version: ticket.version + 1 },
  });
  return wait;
}
