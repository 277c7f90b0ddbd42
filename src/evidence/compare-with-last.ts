import type { z } from 'zod';
import { companyOf, localDay } from '../company/index.ts';
import type { Visit } from '../platform/database/generated/client.ts';
import { notFound } from '../platform/http/problem.ts';
import type { ReadContext } from '../platform/http/route.ts';
import { type EarlierVisit, type Evidence, evidenceOfMachines, lastGood } from '../trade/index.ts';
import { visitOf } from '../visits/index.ts';
import type { lastGoodSchema } from './assessment-contract.ts';
import { gatherSystemEvidence, type WholeSystem, withMachines } from './gather-evidence.ts';

/**
 * What was measured on a machine at a visit beside the last time each figure was measured on it
 * before, whoever measured it.
 * @throws ProblemError 404 for a visit that is not there, or a machine that is not at its site
 */
export async function compareWithLast(
  context: ReadContext,
  visitId: string,
  equipmentId: string,
): Promise<z.input<typeof lastGoodSchema>> {
  const { prisma } = context;
  const visit = await visitOf(prisma, context, visitId);
  const system = await prisma.comfortSystem.findFirst({
    where: {
      site: { tickets: { some: { id: visit.ticketId } } },
      equipment: { some: { id: equipmentId } },
    },
    include: withMachines,
  });
  if (system === null) throw notFound('equipment at this site');
  const today = await evidenceOf(context, visit.id, system, equipmentId);
  const earlier = await earlierVisits(context, visit, system, equipmentId);
  return { equipmentId, comparisons: lastGood(today, earlier) };
}

/** Beyond so many visits what was measured says little about what changed. */
const earlierVisitsMax = 12;

async function earlierVisits(
  context: ReadContext,
  { id, arrivedAt }: Visit,
  system: WholeSystem,
  equipmentId: string,
): Promise<EarlierVisit[]> {
  // Before the arrival nothing was measured, so there is nothing to compare.
  if (arrivedAt === null) return [];
  const { timeZone } = await companyOf(context.prisma);
  const visits = await context.prisma.visit.findMany({
    where: {
      id: { not: id },
      arrivedAt: { lt: arrivedAt },
      ticket: { siteId: system.siteId },
      readings: { some: { equipmentId: { in: system.equipment.map((each) => each.id) } } },
    },
    orderBy: [{ arrivedAt: 'desc' }, { id: 'desc' }],
    take: earlierVisitsMax,
    select: { id: true, arrivedAt: true },
  });
  const earlier: EarlierVisit[] = [];
  for (const each of visits) {
    const day = localDay(each.arrivedAt ?? arrivedAt, timeZone);
    const evidence = await evidenceOf(context, each.id, system, equipmentId);
    earlier.push({ visitId: each.id, day, evidence });
  }
  return earlier;
}

async function evidenceOf(
  { prisma }: ReadContext,
  visitId: string,
  system: WholeSystem,
  equipmentId: string,
): Promise<Evidence> {
  const machines = evidenceOfMachines(await gatherSystemEvidence(prisma, visitId, system));
  const evidence = machines.find(({ equipment }) => equipment.id === equipmentId);
  if (evidence === undefined) throw new Error('the machine is none of its own system');
  return evidence;
}
