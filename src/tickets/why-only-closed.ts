import type { Tx } from '../platform/database/database.ts';
import { lastClosing } from './last-closing.ts';

type Tables = Pick<Tx, 'partUse' | 'quoteAcceptance' | 'ticketClosing' | 'visit' | 'workOutcome'>;

/**
 * Why a locked ticket can no longer be cancelled or solved by phone but only closed, in words;
 * undefined while nothing would be lost. Who drops a ticket bills nothing: neither the work that was
 * agreed to or done, nor the fee of a trip.
 */
export async function whyOnlyClosed(tx: Tables, ticketId: string): Promise<string | undefined> {
  const agreed = await tx.quoteAcceptance.findFirst({
    where: { quote: { ticketId }, cancellation: null },
    orderBy: { quote: { number: 'asc' } },
    select: { quote: { select: { number: true } } },
  });
  if (agreed !== null) {
    const { number } = agreed.quote;
    return `Quote ${number} was accepted. Close the ticket, and say what was done of it.`;
  }
  const ofTicket = { where: { visit: { ticketId }, strike: null } };
  const worked =
    (await tx.workOutcome.findFirst(ofTicket)) ?? (await tx.partUse.findFirst(ofTicket));
  if (worked !== null) return 'Work is on record. Close the ticket.';
  const trip = await lastTrip(tx, ticketId);
  if (trip === undefined) return undefined;
  return trip.feeCents > 0
    ? 'A technician was there, and the visit fee is not billed yet. Close the ticket.'
    : 'A technician was there. Close the ticket, and say how things were left.';
}

/** A finished visit that no closing has looked at yet, one with a fee first. */
async function lastTrip(tx: Tables, ticketId: string): Promise<{ feeCents: number } | undefined> {
  const closing = await lastClosing(tx, ticketId);
  const trip = await tx.visit.findFirst({
    // Identifiers are in the order of time: what was booked after a closing is not of it.
    where: { ticketId, state: 'finished', ...(closing && { id: { gt: closing.id } }) },
    orderBy: { feeCents: 'desc' },
    select: { feeCents: true },
  });
  return trip ?? undefined;
}
