import { allowedActions, type VisitAction, visitLifecycle } from '../lifecycles/index.ts';
import type { Visit } from '../platform/database/generated/client.ts';
import { lockRow } from '../platform/database/lock-row.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { coveringVisitId } from './covering-visit.ts';

/**
 * A step of a visit, or its cancelling where another takes its place with its fee: in another window,
 * or with another technician alone, to whom the whole trip is given.
 */
export type TripStep = VisitAction | 'rebook' | 'give';

/**
 * Refuses a step of a locked visit by which a trip would be made without its fee: dropping the visit
 * whose fee is that of the trip, or setting out for one whose fee has come to nothing. A visit that
 * was moved out of the trip without a fee still rests on it until somebody sets out.
 * @throws ProblemError 409 saying what to do
 */
export async function refuseTripWithoutFee(
  act: ActContext,
  visit: Visit,
  action: TripStep,
): Promise<void> {
  const why = await whyNot(act, visit, action);
  if (why === undefined) return;
  const gone = action === 'rebook' || action === 'give' ? 'cancel' : action;
  throw new ProblemError('not-allowed-now', why, {
    currentState: visit.state,
    action,
    allowedActions: allowedActions(visitLifecycle, visit.state).filter((each) => each !== gone),
  });
}

async function whyNot(
  act: ActContext,
  visit: Visit,
  action: TripStep,
): Promise<string | undefined> {
  if (action === 'cancel') {
    return (await whyNotDropped(act, visit.id, action)) ?? (await whyNotCancelled(act, visit));
  }
  if (action === 'rebook' || action === 'give' || action === 'report_no_access') {
    return whyNotDropped(act, visit.id, action);
  }
  return whyNotMade(act, visit);
}

async function whyNotDropped(
  { tx }: ActContext,
  visitId: string,
  action: 'cancel' | 'rebook' | 'give' | 'report_no_access',
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
  if (booked === undefined || action === 'give' || action === 'report_no_access') return undefined;
  const why = `Ticket ${booked.ticket.number} is booked on this trip, without a fee of its own.`;
  return action === 'cancel'
    ? `${why} Cancel that visit first; then tell its fee and book it again.`
    : `${why} Name another technician alone, and the whole trip goes along; for another window, ` +
        'book that visit anew first, in one that its customer agrees to.';
}

// That nobody was let in is told as it is, also where a visit that left the trip was made already.
async function whyNotCancelled({ tx }: ActContext, visit: Visit): Promise<string | undefined> {
  const { siteId } = await tx.ticket.findUniqueOrThrow({ where: { id: visit.ticketId } });
  const movedWithoutFee = await tx.visit.findMany({
    where: {
      ...{ ticket: { siteId }, purpose: 'call', feeCents: 0, sameTripAs: null },
      ...{ movedFromId: { not: null }, state: { notIn: ['cancelled', 'no_access'] } },
    },
    include: { ticket: { select: { number: true } } },
    orderBy: { id: 'asc' },
  });
  for (const { ticket, ...resting } of movedWithoutFee) {
    if ((await coveringVisitId(tx, resting.id)) !== visit.id) continue;
    const why = `Ticket ${ticket.number} has no fee of its own: that of this visit covers it.`;
    return resting.state === 'on_site' || resting.state === 'finished'
      ? `${why} Somebody was let in there. Arrive, and finish this one instead.`
      : `${why} Cancel that visit first; then tell its fee and book it again.`;
  }
  return undefined;
}

async function whyNotMade({ tx }: ActContext, visit: Visit): Promise<string | undefined> {
  const restsOn = async () =>
    visit.sameTripAs ?? (visit.state === 'booked' ? await coveringVisitId(tx, visit.id) : null);
  const withFeeId = await restsOn();
  if (withFeeId === null) return undefined;
  // Whoever cancels it meanwhile, or moves it, has come first and is seen below, or waits.
  await lockRow(tx, 'visit', withFeeId);
  const standing = (await restsOn()) ?? withFeeId;
  const withFee = await tx.visit.findUniqueOrThrow({
    where: { id: standing },
    include: { ticket: { select: { number: true } } },
  });
  if (withFee.state !== 'cancelled' && withFee.state !== 'no_access') return undefined;
  const { number } = withFee.ticket;
  const whose = visit.sameTripAs ? 'was that of this trip' : 'was to cover this visit';
  return `Nobody was let in for ticket ${number}, whose fee ${whose}. Cancel this visit, tell the fee, and book again.`;
}
