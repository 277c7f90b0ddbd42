import { Prisma } from '../platform/database/generated/client.ts';
import type { ActContext } from '../platform/http/route.ts';
import { lastClosing } from '../tickets/index.ts';
import { movedOz } from './move-refrigerant.ts';

/** What the scale says went into a system, and what is recorded as used in it. */
export interface ChargedAndUsed {
  chargedOz: Prisma.Decimal;
  usedOz: Prisma.Decimal;
}

/** Of a system, since its ticket was closed last, without what was struck out. */
export async function chargedAndUsed(
  act: ActContext,
  ticketId: string,
  systemId: string,
): Promise<ChargedAndUsed> {
  const closing = await lastClosing(act.tx, ticketId);
  const now = { ticketId, ...(closing && { id: { gt: closing.id } }) };
  const charged = await act.tx.refrigerantMove.findMany({
    where: { visit: now, equipment: { systemId }, direction: 'charged', strike: null },
  });
  const usedOz = await usedSoFarOz(act, now, systemId);
  return { chargedOz: sum(charged.map(movedOz)), usedOz };
}

/** Whether no more is recorded as used than the scale says, as near as a scale reads. */
export function isWeighed({ chargedOz, usedOz }: ChargedAndUsed): boolean {
  return usedOz.lte(chargedOz.plus(SCALE_OZ));
}

/** What was sold by weight and recorded as used in a system. */
async function usedSoFarOz(
  { tx }: ActContext,
  visit: Prisma.VisitWhereInput,
  systemId: string,
): Promise<Prisma.Decimal> {
  const uses = await tx.partUse.findMany({
    where: { visit, finding: { equipment: { systemId } }, measured: { not: null }, strike: null },
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
export const ouncesPer: Readonly<Record<string, number>> = { '[lb_av]': 16, '[oz_av]': 1 };

/** A cylinder scale reads to half an ounce; common practice, no source. */
const SCALE_OZ = '0.5';
