import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { versionTag } from '../platform/http/etag.ts';
import { notFound, ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { lockTicket, writeTicket } from '../tickets/index.ts';
import { type WholeCallBack, withCaller } from './call-back-body.ts';
import type { callBackResultSchema } from './contract.ts';
import { saltOfCaller } from './salt-of-caller.ts';

/**
 * Records what a call back came to. Whoever is not reached is called again; trouble that is back is
 * a ticket of its own, because what was solved by phone stays as it ended.
 * @throws ProblemError 404 for no call back, 409 for one that was made, 412 for another version
 */
export async function makeCallBack(
  act: ActContext,
  id: string,
  { outcome, note }: z.output<typeof callBackResultSchema>,
): Promise<WholeCallBack> {
  const known = await act.tx.callBack.findUnique({ where: { id } });
  if (known === null) throw notFound('call back');
  // Of two who make it at once the second waits at the ticket, and then sees what the first did.
  const ticket = await lockTicket(act, known.ticketId);
  const callBack = await act.tx.callBack.findUniqueOrThrow({ where: { id } });
  act.mustMatch(versionTag(callBack.version));
  if (callBack.outcome !== null) {
    throw new ProblemError('not-allowed-now', 'This call back was made.', {
      currentState: callBack.outcome,
      action: 'make',
      allowedActions: [],
    });
  }
  const isReached = outcome !== 'not_reached';
  const tries = callBack.tries + (isReached ? 0 : 1);
  const next = outcome === 'back_again' ? await writeTicket(act, ticket) : undefined;
  const nextTicketId = next?.id ?? null;
  await appendJournal(act, {
    event: 'call_back.made',
    subject: { kind: 'call_back', id },
    after: { outcome, tries, nextTicketId },
    personal: { salt: await saltOfCaller(act, ticket), after: { note } },
  });
  return act.tx.callBack.update({
    where: { id },
    data: {
      tries,
      version: callBack.version + 1,
      ...(note !== undefined && { note }),
      ...(isReached && { outcome, nextTicketId, madeAt: act.now, madeById: act.actor.id }),
    },
    include: withCaller,
  });
}
