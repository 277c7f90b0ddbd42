import { appendJournal } from '../journal/index.ts';
import { lockRow } from '../platform/database/lock-row.ts';
import { isTaken } from '../platform/database/violation.ts';
import { notFound, ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { pricingInputsSchema } from '../pricing/index.ts';

/**
 * Opens the claim for a part that was put in under its maker's warranty, once.
 * @returns the claim's identifier
 * @throws ProblemError 404 for an unknown use of a part, 409 when it was claimed before, is struck out, or the
 *   customer's paper did not have the part under warranty
 */
export async function openClaim(act: ActContext, partUseId: string): Promise<string> {
  const use = await lockUse(act, partUseId);
  if (use.claim !== null) {
    throw new ProblemError('already-exists', 'This part was claimed before.', {
      claimId: use.claim.id,
    });
  }
  if (use.strike !== null) {
    throw new ProblemError('not-allowed-now', `This part is struck out: ${use.strike.reason}`, {
      currentState: 'struck',
      action: 'open',
      allowedActions: [],
    });
  }
  if (!(await wasWarranted(act, use))) {
    throw new ProblemError('not-allowed-now', 'This part was not sold under a maker’s warranty.', {
      currentState: 'not_under_warranty',
      action: 'open',
      allowedActions: [],
    });
  }
  const id = act.newId();
  await insertOnce(act, id, partUseId);
  await act.tx.warrantyClaimState.create({ data: { claimId: id, changedAt: act.now } });
  await appendJournal(act, {
    event: 'claim.opened',
    subject: { kind: 'claim', id },
    after: { partUseId, partCode: use.partCode },
  });
  return id;
}

/** Locks the ticket of a part, so that who strikes the part out meanwhile waits, or has come first. */
async function lockUse(act: ActContext, id: string) {
  const at = await act.tx.partUse.findUnique({
    where: { id },
    select: { visit: { select: { ticketId: true } } },
  });
  if (at === null) throw notFound('part');
  await lockRow(act.tx, 'ticket', at.visit.ticketId);
  return act.tx.partUse.findUniqueOrThrow({
    where: { id },
    include: { acceptance: true, claim: { select: { id: true } }, strike: true },
  });
}

/** A part has one claim, by a unique index: of two who open it at once the second is refused. */
async function insertOnce(act: ActContext, id: string, partUseId: string): Promise<void> {
  try {
    await act.tx.warrantyClaim.create({
      data: { id, partUseId, openedAt: act.now, openedById: act.actor.id },
    });
  } catch (error) {
    if (!isTaken(error)) throw error;
    throw new ProblemError('already-exists', 'This part was claimed before.');
  }
}

/** Whether the yes under which the part was put in had it at zero because of its maker. */
async function wasWarranted(
  { tx }: ActContext,
  use: { findingId: string; partCode: string; acceptance: { optionId: string } },
): Promise<boolean> {
  const option = await tx.quoteOption.findUniqueOrThrow({
    where: { id: use.acceptance.optionId },
    include: { revision: { select: { inputs: true } } },
  });
  const { options } = pricingInputsSchema.parse(option.revision.inputs);
  const work = options[option.position - 1]?.work ?? [];
  return work
    .filter(
      ({ findingId, alsoFindingIds = [] }) =>
        findingId === use.findingId || alsoFindingIds.includes(use.findingId),
    )
    .some(({ parts }) =>
      parts.some(
        ({ code, underManufacturerWarranty }) => code === use.partCode && underManufacturerWarranty,
      ),
    );
}
