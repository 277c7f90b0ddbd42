import { companyOf, localDay } from '../company/index.ts';
import { refuseBackdating } from '../invoices/index.ts';
import { appendJournal } from '../journal/index.ts';
import { warrantyClaimLifecycle } from '../lifecycles/index.ts';
import { dateOfDay, dayText } from '../platform/calendar-day.ts';
import { sqlOf } from '../platform/database/database.ts';
import { versionTag } from '../platform/http/etag.ts';
import { moveOrRefuse } from '../platform/http/move-or-refuse.ts';
import { wrongField } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { claimOf, type WholeClaim } from './claim-of.ts';
import { claimStateSchema } from './contract.ts';

/** A step of a claim with what goes with it. */
export type ClaimStep = { happenedOn: string } & (
  | { action: 'send'; registration: string; oldPart: string }
  | { action: 'credit'; amountCents: number; reference: string }
  | { action: 'refuse' | 'withdraw'; reason: string }
);

/**
 * Takes a claim one step along its life.
 * @throws ProblemError 404, 400 for a day that has not come or is before what the step follows,
 *   403 for a credit of more than two days ago unless the owner writes it down, 409 when the step is
 *   not allowed, 412 when somebody took one first
 */
export async function stepClaim(act: ActContext, id: string, step: ClaimStep): Promise<WholeClaim> {
  const { action, happenedOn, ...facts } = step;
  // Two steps that arrive together wait for each other here; the second then sees the first.
  await sqlOf(act.tx).query(LOCK, [id]);
  const claim = await claimOf(act.tx, id);
  const version = claim.state?.version ?? 1;
  act.mustMatch(versionTag(version));
  const from = claimStateSchema.parse(claim.state?.state);
  const to = moveOrRefuse('claim', warrantyClaimLifecycle, from, action);
  const { timeZone } = await companyOf(act.tx);
  refuseWrongDay(step, claim, { act, timeZone });
  // The day of a credit is a day of the books.
  if (action === 'credit') await refuseBackdating(act, 'A credit', { day: happenedOn });
  await act.tx.warrantyClaimStep.create({
    data: {
      claimId: id,
      step: to,
      ...facts,
      happenedOn: dateOfDay(happenedOn),
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
    after: {
      state: to,
      amountCents: step.action === 'credit' ? step.amountCents : null,
      happenedOn,
    },
  });
  return claimOf(act.tx, id);
}

/** A step is of a day that has come, and not before what it follows: the part, or the sending. */
function refuseWrongDay(
  { happenedOn }: ClaimStep,
  { partUse, steps }: WholeClaim,
  { act, timeZone }: { act: ActContext; timeZone: string },
): void {
  if (happenedOn > localDay(act.now, timeZone)) {
    throw wrongField('/happenedOn', 'in_the_future', 'must not be in the future');
  }
  const sent = steps.find(({ step }) => step === 'sent');
  const [earliest, what] = sent
    ? [dayText(sent.happenedOn), 'the claim was sent']
    : [localDay(partUse.recordedAt, timeZone), 'the part went in'];
  if (happenedOn < earliest) {
    throw wrongField('/happenedOn', 'too_early', `is before ${what}, on ${earliest}`);
  }
}

const LOCK = 'SELECT 1 FROM warranty_claim_state WHERE claim_id = $1 FOR NO KEY UPDATE';
