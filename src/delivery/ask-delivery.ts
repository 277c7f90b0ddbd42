import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { enqueueDelivery } from '../outbox/index.ts';
import type { Prisma } from '../platform/database/generated/client.ts';
import { notFound, ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { ownTickets } from '../staff/index.ts';
import type { newDeliverySchema } from './contract.ts';
import { standingFacts, standingOf } from './standing-of.ts';

/**
 * Asks for a paper to be sent to one of the people of its site, each time anew.
 * @returns the id of the delivery
 * @throws ProblemError 404 for a paper that is not there, or of a ticket that is not theirs; 409
 *   where there is nowhere to send it, or nothing that could go there
 */
export async function askDelivery(
  act: ActContext,
  paperId: string,
  { to, channel }: z.output<typeof newDeliverySchema>,
): Promise<string> {
  const { tx, actor } = act;
  const paper = await tx.paper.findFirst({
    where: { id: paperId, ticket: ownTickets(actor) },
    include: withPeople,
  });
  if (paper === null) throw notFound('paper');
  const customer = paper.ticket.site[to];
  if (channel === 'mail' && !customer.email?.trim()) {
    throw nowhere(`There is no mail address of ${customer.name} on file.`);
  }
  if (channel === 'text') requireAnswerable(paper, to, act.now);
  const id = await enqueueDelivery(act, {
    ...{ paperId, channel, recipient: to, customer },
    ...{ cause: 'asked', askedById: actor.id },
  });
  await appendJournal(act, {
    event: 'delivery.asked',
    subject: { kind: 'delivery', id },
    after: {
      ...{ paperId, channel, recipient: to },
      ...{ customerId: customer.id, language: customer.language },
    },
  });
  return id;
}

const person = { select: { id: true, name: true, language: true, email: true } } as const;

const withPeople = {
  ticket: { select: { site: { select: { occupant: person, approver: person, payer: person } } } },
  revision: { select: standingFacts },
} as const satisfies Prisma.PaperInclude;

/** A text is the link to a quote: it is for whoever can answer there, while there is an answer. */
function requireAnswerable(
  { revision, ticket: { site } }: Prisma.PaperGetPayload<{ include: typeof withPeople }>,
  to: z.output<typeof newDeliverySchema>['to'],
  now: Date,
): void {
  if (standingOf(revision, now) !== 'waits') {
    throw nowhere('Only a quote that waits for its answer can be sent as a text.');
  }
  if (to === 'occupant' && site.occupant.id !== site.approver.id) {
    throw nowhere('Only whoever approves or pays can answer it: send the text to one of them.');
  }
}

function nowhere(why: string): ProblemError {
  return new ProblemError('not-allowed-now', why, { allowedActions: [] });
}
