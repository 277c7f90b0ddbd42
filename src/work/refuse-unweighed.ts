import { Prisma, type Ticket } from '../platform/database/generated/client.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { lastClosing } from '../tickets/index.ts';
import { handlesRefrigerant, taskCodeSchema } from '../trade/index.ts';
import type { SoldLine } from './agreed-work.ts';
import { movedOz } from './move-refrigerant.ts';

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
  const { systemId } = equipment;
  const closing = await lastClosing(act.tx, ticket.id);
  const now = { ticketId: ticket.id, ...(closing && { id: { gt: closing.id } }) };
  const charged = await act.tx.refrigerantMove.findMany({
    where: { visit: now, equipment: { systemId }, direction: 'charged' },
  });
  const chargedOz = sum(charged.map(movedOz));
  const usedOz = (await usedSoFarOz(act, now, systemId)).plus(use.quantity.times(perUnitOz));
  if (usedOz.lte(chargedOz.plus(SCALE_OZ))) return;
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

/** What was sold by weight and recorded as used in a system since it was closed last. */
async function usedSoFarOz(
  { tx }: ActContext,
  visit: Prisma.VisitWhereInput,
  systemId: string,
): Promise<Prisma.Decimal> {
  const uses = await tx.partUse.findMany({
    where: { visit, finding: { equipment: { systemId } }, measured: { not: null } },
    select: { quoteId: true, partCode: true, measured: true },
  });
  // Also under a yes that was taken back since: what went in went in.
  const agreed = await tx.quoteAcceptance.findMany({
    where: { quoteId: { in: uses.map(({ quoteId }) => quoteId) } },
    select: { optionId: true },
  });
  const lines = await tx.quoteLine.findMany({
    where: {
      optionId: { in: agreed.map(({ optionId }) => optionId) },
      unit: { in: Object.keys(ouncesPer) },
    },
    select: { code: true, unit: true },
  });
  const unitOf = new Map(lines.map(({ code, unit }) => [code, unit]));
  return sum(
    uses.map(({ partCode, measured }) =>
      new Prisma.Decimal(measured ?? 0).times(ouncesPer[unitOf.get(partCode) ?? ''] ?? 0),
    ),
  );
}

function sum(amounts: readonly Prisma.Decimal[]): Prisma.Decimal {
  return amounts.reduce((all, each) => all.plus(each), new Prisma.Decimal(0));
}

/** What is sold by weight: the ounces of one of its units. */
const ouncesPer: Readonly<Record<string, number>> = { '[lb_av]': 16, '[oz_av]': 1 };

/** A cylinder scale reads to half an ounce; common practice, no source. */
const SCALE_OZ = '0.5';
