import type { z } from 'zod';
import { notFound } from '../platform/http/problem.ts';
import type { ReadContext } from '../platform/http/route.ts';
import { visitOf } from '../visits/index.ts';
import { assessSystem } from './assess-system.ts';
import type { assessmentQuerySchema, visitAssessmentSchema } from './assessment-contract.ts';
import { gatherSystemEvidence, withMachines } from './gather-evidence.ts';
import { ownPriors } from './own-priors.ts';

/**
 * What the evidence of a visit says of each system of its site that has a machine.
 * @throws ProblemError 404 for a visit that is not there, or a system or machine not at its site
 */
export async function assessVisit(
  context: ReadContext,
  visitId: string,
  { systemId, equipmentId, all }: z.output<typeof assessmentQuerySchema>,
): Promise<z.input<typeof visitAssessmentSchema>> {
  const { prisma } = context;
  const visit = await visitOf(prisma, context, visitId);
  const machine = equipmentId === undefined ? {} : { id: equipmentId };
  const systems = await prisma.comfortSystem.findMany({
    where: {
      site: { tickets: { some: { id: visit.ticketId } } },
      ...(systemId !== undefined && { id: systemId }),
      equipment: { some: machine },
    },
    include: withMachines,
    orderBy: { id: 'asc' },
  });
  if (systems.length === 0 && equipmentId !== undefined) throw notFound('equipment at this site');
  if (systems.length === 0 && systemId !== undefined)
    throw notFound('system with equipment at this site');
  const priors = await ownPriors(context);
  const assessed: z.input<typeof visitAssessmentSchema>['systems'] = [];
  for (const system of systems) {
    const evidence = await gatherSystemEvidence(prisma, visit.id, system);
    assessed.push({
      systemId: system.id,
      systemName: system.name,
      ...assessSystem(evidence, priors, { equipmentId, all: all === 'true' }),
    });
  }
  return { systems: assessed };
}
