import { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { versionTag } from '../platform/http/etag.ts';
import { notFound, ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { lockTicket, openTicket, symptomSchema } from '../tickets/index.ts';
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
  const personal = { salt: await saltOfCaller(act, ticket), after: { note } };
  const subject = { kind: 'call_back', id };
  const version = callBack.version + 1;
  if (outcome === 'not_reached') {
    const tries = callBack.tries + 1;
    const data = { tries, version, ...(note !== undefined && { note }) };
    await appendJournal(act, { event: 'call_back.tried', subject, after: { tries }, personal });
    return act.tx.callBack.update({ where: { id }, data, include: withCaller });
  }
  const next = outcome === 'back_again' ? await openTicket(act, sameTrouble(ticket)) : undefined;
  const after = { outcome, nextTicketId: next?.id ?? null };
  await appendJournal(act, { event: 'call_back.made', subject, after, personal });
  const data = {
    ...after,
    version,
    madeAt: act.now,
    madeById: act.actor.id,
    ...(note !== undefined && { note }),
  };
  return act.tx.callBack.update({ where: { id }, data, include: withCaller });
}

interface Trouble {
  siteId: string;
  callerId: string;
  complaint: string;
  symptoms: string[];
}

function sameTrouble({ siteId, callerId, complaint, symptoms }: Trouble) {
  return { siteId, callerId, complaint, symptoms: z.array(symptomSchema).parse(symptoms) };
}
