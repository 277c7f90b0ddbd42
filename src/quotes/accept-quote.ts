import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { ProblemError, unknownReference } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { acceptanceRequestSchema } from './contract.ts';
import { lockQuote, moveRevision, supersedeDrafts } from './lock-quote.ts';
import { refuseSecondOfVisit } from './refuse-second-quote.ts';
import { standingRevision } from './standing-revision.ts';

type Acceptance = z.output<typeof acceptanceRequestSchema>;

/**
 * Records the written yes to one option. It binds what was shown: the total and the content hash
 * must be those of the revision that stands. Two answers that arrive together wait for each other
 * on the quote's lock, and the database keeps a single acceptance per quote.
 * @throws ProblemError 409 when nothing stands, it has expired or the approver may not agree to as
 *   much, 412 when what was shown is not
 *   what stands, 422 for an option of another revision
 */
export async function acceptQuote(
  act: ActContext,
  quoteId: string,
  input: Acceptance,
): Promise<void> {
  const revisions = await lockQuote(act, quoteId);
  const standing = standingRevision(revisions, 'accept', act.now);
  const option = await act.tx.quoteOption.findFirst({
    where: { id: input.optionId, revision: { quoteId, number: standing.revision } },
  });
  if (standing.contentHash !== input.shownContentHash) throw shownIsNot('content hash');
  if (option === null) {
    throw unknownReference('/optionId', 'The revision that stands has no such option.');
  }
  if (option.totalCents !== input.shownTotalCents) throw shownIsNot('total');
  await refuseSecondOfVisit(act, quoteId);
  await refuseAboveLimit(act, quoteId, option.totalCents, input);
  await act.tx.quoteAcceptance.create({
    data: {
      quoteId,
      revision: standing.revision,
      optionId: option.id,
      totalCents: option.totalCents,
      contentHash: input.shownContentHash,
      acceptedByName: input.acceptedByName,
      consentText: input.consentText,
      beyondLimitAgreedBy: input.beyondLimitAgreedBy ?? null,
      acceptedAt: act.now,
      recordedById: act.actor.id,
      address: act.origin.address,
      userAgent: act.origin.userAgent ?? null,
    },
  });
  await moveRevision(act.tx, quoteId, standing, 'accept', act.now);
  await supersedeDrafts(act, quoteId, revisions);
  await appendJournal(act, {
    event: 'quote.accepted',
    subject: { kind: 'quote', id: quoteId },
    after: {
      revision: standing.revision,
      optionId: option.id,
      totalCents: option.totalCents,
      contentHash: input.shownContentHash,
    },
  });
}

async function refuseAboveLimit(
  act: ActContext,
  quoteId: string,
  totalCents: number,
  { beyondLimitAgreedBy }: Acceptance,
): Promise<void> {
  const { ticket } = await act.tx.quote.findUniqueOrThrow({
    where: { id: quoteId },
    select: { ticket: { select: { site: { select: { approverLimitCents: true } } } } },
  });
  const { approverLimitCents } = ticket.site;
  if (approverLimitCents === null || totalCents <= approverLimitCents) return;
  if (beyondLimitAgreedBy !== undefined) return;
  throw new ProblemError(
    'above-approval-limit',
    'The total is above the limit of the site’s approver. Name who agreed beyond it.',
    { approverLimitCents, totalCents },
  );
}

function shownIsNot(what: string): ProblemError {
  return new ProblemError(
    'shown-content-changed',
    `The ${what} that was shown is not the one that stands. Show the quote again.`,
  );
}
