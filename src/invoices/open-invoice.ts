import { appendJournal } from '../journal/index.ts';
import type { ActContext } from '../platform/http/route.ts';

/**
 * Opens the draft invoice of a closing, in the closing's own transaction, even when nothing will
 * be billed: that too is then said and not forgotten. It goes to whoever pays for the site on the
 * day of the closing. What it bills is computed whenever somebody looks, and frozen at its issue.
 * @returns its id
 */
export async function openInvoice(
  act: ActContext,
  { ticketId, closingId }: { ticketId: string; closingId: string },
): Promise<string> {
  const { site } = await act.tx.ticket.findUniqueOrThrow({
    where: { id: ticketId },
    select: { site: { select: { payerId: true } } },
  });
  const id = act.newId();
  const { payerId } = site;
  await act.tx.invoice.create({
    data: {
      id,
      ticketId,
      closingId,
      payerId,
      createdAt: act.now,
      createdById: act.actor.id,
      state: { create: { changedAt: act.now } },
    },
  });
  await appendJournal(act, {
    event: 'invoice.opened',
    subject: { kind: 'invoice', id },
    after: { ticketId, closingId, payerId },
  });
  return id;
}
