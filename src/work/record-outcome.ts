import type { z } from 'zod';
import { companyOf, localDay } from '../company/index.ts';
import { appendJournal } from '../journal/index.ts';
import { dateOfDay, plusDays } from '../platform/calendar-day.ts';
import type { WorkOutcome } from '../platform/database/generated/client.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { pricingInputsSchema } from '../pricing/index.ts';
import { callbackDays } from '../tickets/index.ts';
import { type AgreedWork, requireAgreed } from './agreed-work.ts';
import type { newOutcomeSchema } from './contract.ts';
import { lockWork } from './lock-work.ts';
import { refuseNobodyThere } from './refuse-nobody-there.ts';

/**
 * Records whether the work that a yes sells for a finding was done. What was done is under the
 * labor warranty from today on, by the policy of the accepted price; where that says nothing, for as
 * long as the same trouble is a callback. It is said once, unless that is struck out.
 * @throws ProblemError 404, 409 when it is said already, a part went in for what is said not to be
 *   done, the visit was over before the yes, nothing was agreed to or the ticket is not open, 422 for work that the yes does not sell
 */
export async function recordOutcome(
  act: ActContext,
  visitId: string,
  { quoteId, findingId, outcome, reason }: z.output<typeof newOutcomeSchema>,
): Promise<WorkOutcome> {
  const { visit, ticket } = await lockWork(act, visitId);
  const agreed = await requireAgreed(act, ticket.id, { quoteId, findingId });
  if (outcome === 'done') refuseNobodyThere(visit, agreed);
  await refuseSecond(act, quoteId, findingId);
  if (outcome === 'not_done') await refuseUsed(act, quoteId, findingId);
  const until = outcome === 'done' ? await laborWarrantyUntil(act, agreed) : undefined;
  const recorded = await act.tx.workOutcome.create({
    data: {
      id: act.newId(),
      quoteId,
      findingId,
      visitId,
      outcome,
      reason: reason ?? null,
      laborWarrantyUntil: until === undefined ? null : dateOfDay(until),
      recordedAt: act.now,
      recordedById: act.actor.id,
    },
  });
  await appendJournal(act, {
    event: 'work.outcome_recorded',
    subject: { kind: 'finding', id: findingId },
    after: { visitId, quoteId, outcome, laborWarrantyUntil: until ?? null, outcomeId: recorded.id },
  });
  return recorded;
}

async function refuseSecond({ tx }: ActContext, quoteId: string, findingId: string): Promise<void> {
  const known = await tx.workOutcome.findFirst({
    where: { quoteId, findingId, strike: null },
    select: { id: true, outcome: true },
  });
  if (known === null) return;
  const said = known.outcome.replaceAll('_', ' ');
  throw new ProblemError(
    'already-exists',
    `This work is recorded already, as ${said}. If that is wrong, strike it out.`,
    { workOutcomeId: known.id },
  );
}

/** Work for which a part went in was done, if only in part. */
async function refuseUsed({ tx }: ActContext, quoteId: string, findingId: string): Promise<void> {
  const use = await tx.partUse.findFirst({
    where: { quoteId, findingId, strike: null },
    orderBy: { id: 'asc' },
    select: { id: true, partCode: true },
  });
  if (use === null) return;
  throw new ProblemError(
    'not-allowed-now',
    `Part ${use.partCode} is recorded as used for this work, so it was done. If that is wrong, strike the part out.`,
    { currentState: 'part_used', allowedActions: [], partUseId: use.id },
  );
}

/** The last day, on the company's calendar, of the warranty on work done today. */
async function laborWarrantyUntil(
  { tx, now }: ActContext,
  { quoteId, revision }: AgreedWork,
): Promise<string> {
  const { inputs } = await tx.quoteRevision.findUniqueOrThrow({
    where: { quoteId_number: { quoteId, number: revision } },
    select: { inputs: true },
  });
  const { policy } = pricingInputsSchema.parse(inputs);
  const { timeZone } = await companyOf(tx);
  return plusDays(localDay(now, timeZone), policy.laborWarrantyDays ?? callbackDays);
}
