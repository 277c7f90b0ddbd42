import { Prisma } from '../platform/database/generated/client.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { handlesRefrigerant, taskCodeSchema } from '../trade/index.ts';
import { agreedWorkOf } from './agreed-work.ts';
import type { VisitAtWork } from './lock-work.ts';

/**
 * Refuses refrigerant that goes into a system before anybody agreed to work on its circuit. What was
 * taken out on this ticket, to weigh the charge, say, may go back without a yes.
 * @throws ProblemError 409
 */
export async function refuseUnagreedCharge(
  act: ActContext,
  { ticketId, state }: VisitAtWork,
  { systemId, ounces }: { systemId: string; ounces: Prisma.Decimal },
): Promise<void> {
  if (await isCircuitWorkAgreed(act, ticketId, systemId)) return;
  const takenOut = await takenOutOz(act, ticketId, systemId);
  if (takenOut.gte(ounces)) return;
  const back = takenOut.gt(0) ? `${takenOut} oz came out of it and may go back.` : '';
  throw new ProblemError(
    'not-allowed-now',
    [
      'Nobody has agreed to work on this refrigerant circuit, and no work is done before the yes.',
      ...(back === '' ? [] : [back]),
      'Record the charge once the quote is accepted.',
    ].join(' '),
    { currentState: state, allowedActions: [] },
  );
}

async function isCircuitWorkAgreed(
  { tx }: ActContext,
  ticketId: string,
  systemId: string,
): Promise<boolean> {
  const agreed = await agreedWorkOf(tx, ticketId);
  const sold = agreed.flatMap(({ lines }) => lines.flatMap(({ findingIds }) => findingIds));
  const findings = await tx.finding.findMany({
    where: { id: { in: sold }, equipment: { systemId } },
    select: { taskCode: true },
  });
  return findings.some(({ taskCode }) => handlesRefrigerant(taskCodeSchema.parse(taskCode)));
}

/** What came out on this ticket and has not gone back yet; never below nothing. */
async function takenOutOz(
  { tx }: ActContext,
  ticketId: string,
  systemId: string,
): Promise<Prisma.Decimal> {
  const moves = await tx.refrigerantMove.findMany({
    where: { visit: { ticketId }, equipment: { systemId }, strike: null },
    select: { beforeOz: true, afterOz: true },
  });
  // A cylinder gets heavier by what comes out and lighter by what goes in.
  const out = moves.reduce(
    (sum, { beforeOz, afterOz }) => sum.plus(afterOz).minus(beforeOz),
    new Prisma.Decimal(0),
  );
  return Prisma.Decimal.max(out, 0);
}
