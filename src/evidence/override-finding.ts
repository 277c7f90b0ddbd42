import { appendJournal } from '../journal/index.ts';
import { isTaken } from '../platform/database/violation.ts';
import { notFound, ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';

/**
 * The owner's recorded reason to price a finding that the evidence does not carry.
 * @throws ProblemError 404, or 409 when the finding needs none or has one
 */
export async function overrideFinding(
  act: ActContext,
  findingId: string,
  reason: string,
): Promise<void> {
  const finding = await act.tx.finding.findUnique({
    where: { id: findingId },
    include: { override: true },
  });
  if (finding === null) throw notFound('finding');
  if (finding.priceable || finding.override !== null) throw carriesPrice();
  await grant(act, findingId, reason);
  await appendJournal(act, {
    event: 'finding.overridden',
    subject: { kind: 'finding', id: findingId },
    after: { reason },
  });
}

// Two reasons that arrive together both find none; the key of the table lets one of them in.
async function grant(act: ActContext, findingId: string, reason: string): Promise<void> {
  try {
    await act.tx.findingOverride.create({
      data: { findingId, reason, grantedById: act.actor.id, grantedAt: act.now },
    });
  } catch (error) {
    if (!isTaken(error)) throw error;
    throw carriesPrice();
  }
}

function carriesPrice(): ProblemError {
  return new ProblemError('already-exists', 'This finding carries a price already.');
}
