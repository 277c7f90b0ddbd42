import type { Prisma, Ticket } from '../platform/database/generated/client.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { handlesRefrigerant, taskCodeSchema } from '../trade/index.ts';
import type { SoldLine } from './agreed-work.ts';
import { chargedAndUsed, isWeighed, ouncesPer } from './charged-and-used.ts';

/**
 * Refuses to record more refrigerant as used than the scale says went into that system: it is billed
 * as it was used. It is weighed first.
 * @param use so much more, in the unit that the line sells by
 * @throws ProblemError 409 with both figures
 */
export async function refuseUnweighed(
  act: ActContext,
  ticket: Ticket,
  { unit }: SoldLine,
  use: { findingId: string; quantity: Prisma.Decimal },
): Promise<void> {
  const perUnitOz = ouncesPer[unit ?? ''];
  if (perUnitOz === undefined) return;
  const { taskCode, equipment } = await act.tx.finding.findUniqueOrThrow({
    where: { id: use.findingId },
    select: { taskCode: true, equipment: { select: { systemId: true } } },
  });
  if (!handlesRefrigerant(taskCodeSchema.parse(taskCode))) return;
  const scale = await chargedAndUsed(act, ticket.id, equipment.systemId);
  const { chargedOz } = scale;
  const usedOz = scale.usedOz.plus(use.quantity.times(perUnitOz));
  if (isWeighed({ chargedOz, usedOz })) return;
  throw new ProblemError(
    'not-allowed-now',
    `The scale says ${chargedOz.toFixed()} oz went into this system; ${usedOz.toFixed()} oz would be recorded as used. Weigh it first.`,
    {
      currentState: 'not_weighed',
      allowedActions: [],
      chargedOz: chargedOz.toFixed(),
      usedOz: usedOz.toFixed(),
    },
  );
}
