import { companyOf, localDay } from '../company/index.ts';
import { appendJournal } from '../journal/index.ts';
import {
  type WarrantyClaimAction,
  type WarrantyClaimState,
  warrantyClaimLifecycle,
} from '../lifecycles/index.ts';
import { versionTag } from '../platform/http/etag.ts';
import { moveOrRefuse } from '../platform/http/move-or-refuse.ts';
import { ProblemError, wrongField } from '../platform/http/problem.ts';
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
  await moveState(act, id, { from, to, version });
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

/** The condition on the version settles two steps that arrive together. */
async function moveState(
  { tx, now }: ActContext,
  claimId: string,
  { from, to, version }: { from: WarrantyClaimState; to: WarrantyClaimState; version: number },
): Promise<void> {
  const { count } = await tx.warrantyClaimState.updateMany({
    where: { claimId, version, state: from },
    data: { state: to, version: version + 1, changedAt: now },
  });
  if (count === 1) return;
  throw new ProblemError('version-changed', 'Somebody took a step of this claim first.');
}
