import type { Prisma } from '../platform/database/generated/client.ts';
import { endedStates } from '../tickets/index.ts';

/** What takes its answer from a quote that nobody answered. */
export type Ending = 'ended' | 'parent_cancelled';

/** What of a quote tells whether it can still be answered. */
export const endingFacts = {
  ticket: { select: { state: true } },
  parent: { select: { acceptance: { select: { cancellation: { select: { quoteId: true } } } } } },
} as const satisfies Prisma.QuoteSelect;

/**
 * Whether the job of a quote is over, or the yes taken back that it would add to. The page of a
 * quote says the same to whoever opens it.
 * @returns undefined while neither is so
 */
export function endingOf({
  ticket,
  parent,
}: Prisma.QuoteGetPayload<{ select: typeof endingFacts }>): Ending | undefined {
  if (endedStates.includes(ticket.state)) return 'ended';
  return parent?.acceptance?.cancellation ? 'parent_cancelled' : undefined;
}
