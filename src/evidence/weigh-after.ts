import type { Tx } from '../platform/database/database.ts';
import {
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  evidenceSchema,
  faultCodeSchema,
  observationWords,
  pointWords,
  type Verdict,
} from '../trade/index.ts';
import type { WholeFinding } from './findings-of.ts';
import { toObservation, toReading } from './gather-evidence.ts';

/**
 * What the readings after the work say of a fault that was found before it: they are weighed as if
 * they had been found, on the machine as the finding knew it, so that each figure of before has the
 * one of after beside it. It proves nothing and is stored nowhere.
 * @param visitIds the visits whose readings after the work count
 */
export async function weighAfter(
  tx: Pick<Tx, 'reading' | 'observation'>,
  finding: WholeFinding,
  visitIds: readonly string[],
): Promise<Verdict> {
  const before = evidenceSchema.parse(finding.evidence);
  const machines = [before.equipment, ...(before.system ?? [])].map(({ id }) => id);
  const left = { visitId: { in: [...visitIds] }, phase: 'left' };
  const equipmentId = { in: machines };
  const order = { orderBy: { id: 'asc' } } as const;
  const readings = await tx.reading.findMany({ where: { ...left, equipmentId }, ...order });
  const observations = await tx.observation.findMany({
    where: { ...left, OR: [{ equipmentId }, { equipmentId: null }] },
    ...order,
  });
  const own = before.equipment.id;
  const after: Evidence = {
    ...before,
    readings: readings
      .map(toReading)
      .filter(({ equipmentId: id, point }) => id === own || pointWords[point].scope === 'system')
      .map((reading) => ({ ...reading, phase: 'found' })),
    observations: observations
      .map(toObservation)
      .filter(
        ({ equipmentId: id = own, code }) =>
          id === own || observationWords[code].about !== 'machine',
      )
      .map((seen) => ({ ...seen, phase: 'found' })),
  };
  const ruleset = evidenceRulesets[currentEvidenceRuleset];
  return ruleset.weigh(faultCodeSchema.parse(finding.faultCode), after);
}
