import { allowedActions, type VisitAction, visitLifecycle } from '../lifecycles/index.ts';
import type { Visit } from '../platform/database/generated/client.ts';
import { lockRow } from '../platform/database/lock-row.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';

/**
 * Refuses a step of a locked visit by which a trip would be made without its fee: dropping the visit
 * whose fee is that of the trip, or setting out for one whose fee has come to nothing.
 * @throws ProblemError 409 saying what to do
 */
export async function refuseTripWithoutFee(
  act: ActContext,
  visit: Visit,
  action: VisitAction,
): Promise<void> {
  const why =
    action === 'cancel' || action === 'report_no_access'
      ? await whyNotDropped(act, visit.id, action)
      : await whyNotMade(act, visit);
  if (why === undefined) return;
  throw new ProblemError('not-allowed-now', why, {
    currentState: visit.state,
    action,
    allowedActions: allowedActions(visitLifecycle, visit.state).filter((each) => each !== action),
  });
}

async function whyNotDropped(
  { tx }: ActContext,
  visitId: string,
  action: 'cancel' | 'report_no_access',
): Promise<string | undefined> {
  const resting = await tx.visit.findMany({
    where: { sameTripAs: visitId, state: { notIn: ['cancelled', 'no_access'] } },
    include: { ticket: { select: { number: true } } },
    orderBy: { id: 'asc' },
  });
  const made = resting.find(({ state }) => state === 'on_site' || state === 'finished');
  if (made !== undefined) {
    return (
      `Somebody was let in on this trip, for ticket ${made.ticket.number}, and this visit has its ` +
      'fee. Arrive, and finish it instead.'
    );
  }
  const [booked] = resting;
  if (booked === undefined || action === 'report_no_access') return undefined;
  return (
    `Ticket ${booked.ticket.number} is booked on this trip, without a fee of its own. ` +
    'Cancel that visit first; then tell its fee and book it again.'
  );
}

async function whyNotMade({ tx }: ActContext, visit: Visit): Promise<string | undefined> {
  if (visit.sameTripAs === null) return undefined;
  await lockRow(tx, 'visit', visit.sameTripAs);
  const withFee = await tx.visit.findUniqueOrThrow({
    where: { id: visit.sameTripAs },
    include: { ticket: { select: { number: true } } },
  });
  if (withFee.state !== 'cancelled' && withFee.state !== 'no_access') return undefined;
  return (
    `Nobody was let in for ticket ${withFee.ticket.number}, whose fee was that of this trip. ` +
    'Cancel this visit, tell the fee, and book again.'
  );
}
