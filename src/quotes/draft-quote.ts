import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { lockRow } from '../platform/database/lock-row.ts';
import { ProblemError, unknownReference } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { visitOf } from '../visits/index.ts';
import type { newQuoteSchema } from './contract.ts';
import { type PricedVisit, priceOptions } from './price-options.ts';
import { refuseSecondQuote } from './refuse-second-quote.ts';
import { requireCurrentVisit } from './require-current-visit.ts';
import { requireOpenTicket } from './require-open-ticket.ts';
import { requireParent } from './require-standing-parent.ts';
import { storeRevision } from './store-revision.ts';

/**
 * Makes a quote for a visit, or a change order of one that was accepted: computed, stored as a
 * draft, shown to nobody yet.
 * @returns the new quote's identifier
 * @throws ProblemError 422 for an unknown visit or what cannot be priced; 409 before the technician
 *   has been on site, on a ticket that has ended, or for a change of what is not accepted
 */
export async function draftQuote(
  act: ActContext,
  input: z.output<typeof newQuoteSchema>,
): Promise<string> {
  const visit = await visitToQuote(act, input.visitId);
  const parentId = input.changeOrderOf ?? null;
  if (parentId === null) await refuseSecondQuote(act, visit.id);
  else await requireParent(act.tx, parentId, visit);
  const priced = await priceOptions(act, { parentId, visit }, input.options);
  const quote = await act.tx.quote.create({
    data: {
      id: act.newId(),
      ticketId: visit.ticketId,
      visitId: visit.id,
      parentId,
      createdAt: act.now,
      createdById: act.actor.id,
    },
  });
  await storeRevision(act, quote.id, 1, priced);
  await appendJournal(act, {
    event: 'quote.drafted',
    subject: { kind: 'quote', id: quote.id },
    after: {
      number: quote.number,
      ticketId: quote.ticketId,
      visitId: quote.visitId,
      parentId,
      revision: 1,
      optionTotalsCents: priced.quote.options.map((option) => option.totalCents),
      rulesetVersion: priced.rulesetVersion,
    },
  });
  return quote.id;
}

async function visitToQuote(act: ActContext, visitId: string): Promise<PricedVisit> {
  const known = await visitOf(act.tx, act, visitId).catch((error: unknown) => {
    // The visit is named in the body here, so a missing one is a wrong field, not a wrong address.
    if (error instanceof ProblemError && error.slug === 'not-found') {
      throw unknownReference('/visitId', 'There is no such visit.');
    }
    throw error;
  });
  if (known.state !== 'on_site' && known.state !== 'finished') {
    throw new ProblemError(
      'not-allowed-now',
      `A quote follows what was found on site; this visit is ${known.state.replaceAll('_', ' ')}.`,
      { currentState: known.state, allowedActions: [] },
    );
  }
  // The ticket before the visit, as everywhere; what depends on them is read only then.
  await lockRow(act.tx, 'ticket', known.ticketId);
  await lockRow(act.tx, 'visit', visitId);
  const visit = await act.tx.visit.findUniqueOrThrow({
    where: { id: visitId },
    include: { ticket: { include: { site: true } }, priceBookVersion: true },
  });
  requireOpenTicket(visit.ticket);
  await requireCurrentVisit(act.tx, { visitId, ticketId: visit.ticketId });
  return visit;
}
