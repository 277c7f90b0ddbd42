import type { z } from 'zod';
import type { prioritySchema } from './contract.ts';
import type { TicketPriority } from './priority-of.ts';

/** A priority as an answer shows it. */
export function priorityBody(priority: TicketPriority): z.input<typeof prioritySchema> {
  const { ticketId, rank, score, sentence, ruledRank, reasons, byHand, waitingSince } = priority;
  return {
    ...{ ticketId, rank, score, sentence },
    byRules: { rank: ruledRank, reasons: reasons.map((reason) => ({ ...reason })) },
    byHand: byHand && { ...byHand, at: byHand.at.toISOString() },
    waitingSince: waitingSince.toISOString(),
  };
}
