import { appendJournal } from '../journal/index.ts';
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
  if (finding.priceable || finding.override !== null) {
    throw new ProblemError('already-exists', 'This finding carries a price already.');
  }
  await act.tx.findingOverride.create({
    data: { findingId, reason, grantedById: act.actor.id, grantedAt: act.now },
  });
  await appendJournal(act, {
    event: 'finding.overridden',
    subject: { kind: 'finding', id: findingId },
    after: { reason },
  });
}
