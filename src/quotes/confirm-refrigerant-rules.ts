import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext, Reply } from '../platform/http/route.ts';
import type { confirmationRequestSchema, confirmationSchema } from './contract.ts';
import { CONFIRMED_KIND, statementToConfirm } from './equipment-rules.ts';
import { latestOf, lockQuote, quoteTag, type RevisionState } from './lock-quote.ts';

/**
 * Records that the owner has looked up the refrigerant rules in force for the new machine of the
 * latest revision, word for word as the statement says. It holds for that revision alone.
 * @throws ProblemError 409 when the latest revision is no draft, offers no new machine, is
 *   confirmed already, or the words are not those of this revision; 412 for another version
 */
export async function confirmRefrigerantRules(
  act: ActContext,
  quoteId: string,
  { statement }: z.output<typeof confirmationRequestSchema>,
): Promise<Reply<z.input<typeof confirmationSchema>>> {
  const revisions = await lockQuote(act, quoteId);
  const { state, revision: number } = latestOf(revisions);
  if (state !== 'draft') throw nothingToConfirm(state, `The quote is ${state}.`);
  await refuseOtherWords(act, quoteId, number, statement);
  const key = { quoteId, revision: number, kind: CONFIRMED_KIND };
  const known = await act.tx.quoteConfirmation.findUnique({
    where: { quoteId_revision_kind: key },
  });
  if (known !== null) {
    throw new ProblemError('already-exists', 'This revision is confirmed already.');
  }
  await act.tx.quoteConfirmation.create({
    data: { ...key, statement, confirmedAt: act.now, confirmedById: act.actor.id },
  });
  await appendJournal(act, {
    event: 'quote.confirmed',
    subject: { kind: 'quote', id: quoteId },
    after: { revision: number, kind: CONFIRMED_KIND, statement },
  });
  return {
    body: {
      revision: number,
      kind: CONFIRMED_KIND,
      statement,
      confirmedAt: act.now.toISOString(),
      confirmedById: act.actor.id,
    },
    etag: quoteTag(revisions, act.now),
  };
}

async function refuseOtherWords(
  act: ActContext,
  quoteId: string,
  number: number,
  statement: string,
): Promise<void> {
  const revision = await act.tx.quoteRevision.findUniqueOrThrow({
    where: { quoteId_number: { quoteId, number } },
  });
  const asked = await statementToConfirm(act.tx, revision);
  if (asked === undefined) {
    throw nothingToConfirm('draft', 'This revision offers no new machine; nothing to confirm.');
  }
  if (asked === statement) return;
  throw new ProblemError(
    'owner-confirmation-needed',
    'These are not the words for this revision. Read `statement`, look it up, and send it as it is.',
    { revision: number, statement: asked },
  );
}

function nothingToConfirm(currentState: RevisionState['state'], message: string): ProblemError {
  return new ProblemError('not-allowed-now', message, {
    currentState,
    action: 'confirm',
    allowedActions: [],
  });
}
