import type { z } from 'zod';
import type { Tx } from '../platform/database/database.ts';
import type { Prisma } from '../platform/database/generated/client.ts';
import {
  causeSearch,
  cautionsFor,
  dueBefore,
  evidenceSchema,
  faultCodeSchema,
  findFault,
  type Observation,
  remedyClassSchema,
  standingSchema,
  taskCodeSchema,
  verdictSchema,
} from '../trade/index.ts';
import type { findingSchema } from './contract.ts';
import { toObservation } from './gather-evidence.ts';

/** A finding with everything that hangs on it. */
export type WholeFinding = Prisma.FindingGetPayload<{ include: { parts: true; override: true } }>;

type Findings = Pick<Tx, 'finding' | 'observation'>;

/** The findings of a visit, oldest first, as the API shows them. */
export async function findingsOf(
  prisma: Findings,
  visitId: string,
): Promise<z.input<typeof findingSchema>[]> {
  const observations = await observationsAt(prisma, visitId);
  const rows = await prisma.finding.findMany({
    where: { visitId },
    orderBy: { id: 'asc' },
    include: { parts: { orderBy: { partCode: 'asc' } }, override: true },
  });
  return rows.map((row) => describeFinding(row, observations));
}

/** What was seen at a visit, for the search for causes, which may come after a finding. */
export async function observationsAt(
  prisma: Pick<Tx, 'observation'>,
  visitId: string,
): Promise<Observation[]> {
  const rows = await prisma.observation.findMany({ where: { visitId }, orderBy: { id: 'asc' } });
  return rows.map(toObservation);
}

/** A stored finding as the API shows it; the verdict is the one frozen when it was added. */
export function describeFinding(
  row: WholeFinding,
  observations: readonly Observation[],
): z.input<typeof findingSchema> {
  const faultCode = faultCodeSchema.parse(row.faultCode);
  const verdict = verdictSchema.parse(row.verdict);
  const evidence = evidenceSchema.parse(row.evidence);
  const remedyClass = remedyClassSchema.parse(row.remedyClass);
  return {
    id: row.id,
    visitId: row.visitId,
    equipmentId: row.equipmentId,
    faultCode,
    faultName: findFault(faultCode)?.name ?? faultCode,
    taskCode: taskCodeSchema.parse(row.taskCode),
    remedyClass,
    standing: standingSchema.parse(row.standing),
    reason: verdict.reason,
    doubts: verdict.doubts,
    criteria: verdict.criteria,
    exclusionsMissing: dueBefore(faultCode, remedyClass, evidence),
    cautions: cautionsFor(faultCode, [evidence.equipment, ...(evidence.system ?? [])]),
    // Looking at one machine says nothing of another.
    causeSearch: causeSearch(
      faultCode,
      observations.filter(({ equipmentId = row.equipmentId }) => equipmentId === row.equipmentId),
    ),
    priceable: row.priceable,
    override: row.override && {
      reason: row.override.reason,
      grantedAt: row.override.grantedAt.toISOString(),
    },
    parts: row.parts.map(({ partCode, quantity, measured }) => ({
      partCode,
      ...(quantity !== null && { quantity }),
      ...(measured !== null && { measured: measured.toFixed() }),
    })),
    rulesetVersion: row.rulesetVersion,
    foundAt: row.foundAt.toISOString(),
  };
}
