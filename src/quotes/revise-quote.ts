import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { revisionRequestSchema } from './contract.ts';
import { latestOf, lockQuote, moveRevision } from './lock-quote.ts';
import { priceOptions } from './price-options.ts';
import { storeRevision } from './store-revision.ts';

/**
 * Makes the next revision of a quote as a draft. A draft it replaces is superseded at once; an
 * issued revision stands until the new one is issued, so the customer always holds a valid paper.
 * @throws ProblemError 409 for a quote that was answered or withdrawn
 */
export async function reviseQuote(
  act: ActContext,
  quoteId: string,
  input: z.output<typeof revisionRequestSchema>,
): Promise<void> {
  const revisions = await lockQuote(act, quoteId);
  const latest = latestOf(revisions);
  if (latest.state !== 'draft' && latest.state !== 'issued') {
    throw new ProblemError('not-allowed-now', `The quote is ${latest.state}.`, {
      currentState: latest.state,
      action: 'revise',
      allowedActions: [],
    });
  }
  const { visit } = await act.tx.quote.findUniqueOrThrow({
    where: { id: quoteId },
    include: {
      visit: { include: { ticket: { include: { site: true } }, priceBookVersion: true } },
    },
  });
  const priced = await priceOptions(act, visit, input.options);
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
