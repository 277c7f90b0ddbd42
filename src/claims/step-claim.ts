import { companyOf, localDay } from '../company/index.ts';
import { appendJournal } from '../journal/index.ts';
import { type WarrantyClaimAction, warrantyClaimLifecycle } from '../lifecycles/index.ts';
import { sqlOf } from '../platform/database/database.ts';
import { versionTag } from '../platform/http/etag.ts';
import { moveOrRefuse } from '../platform/http/move-or-refuse.ts';
import { wrongField } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { claimOf, type WholeClaim } from './claim-of.ts';
import { claimStateSchema } from './contract.ts';

/** What goes with a step of a claim. */
export interface ClaimStep {
  action: WarrantyClaimAction;
  happenedOn: string;
  registration?: string;
  oldPart?: string;
  amountCents?: number;
  reference?: string;
  reason?: string;
}

/**
 * Takes a claim one step along its life.
 * @throws ProblemError 404, 400 for a day that has not come, 409 when the step is not allowed, 412
 *   when somebody took one first
 */
export async function stepClaim(
  act: ActContext,
  id: string,
  { action, happenedOn, ...facts }: ClaimStep,
): Promise<WholeClaim> {
  // Two steps that arrive together wait for each other here; the second then sees the first.
  await sqlOf(act.tx).query(LOCK, [id]);
  const claim = await claimOf(act.tx, id);
  const version = claim.state?.version ?? 1;
  act.mustMatch(versionTag(version));
  const from = claimStateSchema.parse(claim.state?.state);
  const to = moveOrRefuse('claim', warrantyClaimLifecycle, from, action);
  await refuseFuture(act, happenedOn);
  await act.tx.warrantyClaimStep.create({
    data: {
      claimId: id,
      step: to,
      ...facts,
      happenedOn: new Date(`${happenedOn}T00:00:00Z`),
      recordedAt: act.now,
      recordedById: act.actor.id,
    },
  });
  await act.tx.warrantyClaimState.update({
    where: { claimId: id },
    data: { state: to, version: version + 1, changedAt: act.now },
  });
  await appendJournal(act, {
    event: 'claim.moved',
    subject: { kind: 'claim', id },
    before: { state: from },
    after: { state: to, amountCents: facts.amountCents ?? null, happenedOn },
  });
  return claimOf(act.tx, id);
}

async function refuseFuture(act: ActContext, happenedOn: string): Promise<void> {
  const { timeZone } = await companyOf(act.tx);
  if (happenedOn <= localDay(act.now, timeZone)) return;
  throw wrongField('/happenedOn', 'in_the_future', 'must not be in the future');
}

const LOCK = 'SELECT 1 FROM warranty_claim_state WHERE claim_id = $1 FOR NO KEY UPDATE';
