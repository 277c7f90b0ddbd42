import { appendJournal } from '../journal/index.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { latestOf, moveRevision, type RevisionState } from './lock-quote.ts';
import { type OptionToPrice, priceOptions } from './price-options.ts';
import { requireCurrentVisit } from './require-current-visit.ts';
import { requireOpenTicket } from './require-open-ticket.ts';
import { requireStandingParent } from './require-standing-parent.ts';
import { storeRevision } from './store-revision.ts';

/**
 * Makes the next revision of a locked quote as a draft. A draft it replaces is superseded at once;
 * an issued revision stands until the new one is issued, so the customer always holds a valid paper.
 * @throws ProblemError 409 unless the latest revision is a draft or issued; and as priceOptions
 */
export async function makeRevision(
  act: ActContext,
  quoteId: string,
  revisions: readonly RevisionState[],
  options: readonly OptionToPrice[],
): Promise<void> {
  const latest = latestOf(revisions);
  requireRevisable(latest);
  const { parentId, visit } = await act.tx.quote.findUniqueOrThrow({
    where: { id: quoteId },
    include: {
      visit: { include: { ticket: { include: { site: true } }, priceBookVersion: true } },
    },
  });
  requireOpenTicket(visit.ticket);
  await requireCurrentVisit(act.tx, { visitId: visit.id, ticketId: visit.ticketId });
  await requireStandingParent(act.tx, { parentId });
  const priced = await priceOptions(act, { quoteId, parentId, visit }, options);
  if (latest.state === 'draft') await moveRevision(act.tx, quoteId, latest, 'supersede', act.now);
  const revision = latest.revision + 1;
  await storeRevision(act, quoteId, revision, priced);
  await appendJournal(act, {
    event: 'quote.revised',
    subject: { kind: 'quote', id: quoteId },
    after: {
      revision,
      optionTotalsCents: priced.quote.options.map((option) => option.totalCents),
      rulesetVersion: priced.rulesetVersion,
    },
  });
}

/** @throws ProblemError 409 for a quote that was answered or withdrawn */
export function requireRevisable({ state }: RevisionState): void {
  if (state === 'draft' || state === 'issued') return;
  throw new ProblemError('not-allowed-now', `The quote is ${state}.`, {
    currentState: state,
    action: 'revise',
    allowedActions: [],
  });
}
