import type { z } from 'zod';
import { refuseImpossiblePlate } from '../equipment/index.ts';
import { unknownReference } from '../platform/http/problem.ts';
import type { ReadContext } from '../platform/http/route.ts';
import { type Reading, takeReading } from '../trade/index.ts';
import { assessSystem } from './assess-system.ts';
import type { evidenceAssessmentSchema, evidenceToAssessSchema } from './assessment-contract.ts';
import { impossibleReading } from './impossible-reading.ts';
import { ownPriors } from './own-priors.ts';

/**
 * The same as at a visit for evidence that is told and not kept: nothing of it is stored.
 * @throws ProblemError 400 for a nameplate that cannot be; 422 for a reading that cannot be, or
 *   anything noted on a machine that is not among those told
 */
export async function assessEvidence(
  context: ReadContext,
  evidence: ToldEvidence,
): Promise<z.input<typeof evidenceAssessmentSchema>> {
  for (const [index, { nameplate }] of evidence.machines.entries()) {
    refuseImpossiblePlate(nameplate, `/machines/${index}/nameplate`);
  }
  refuseStrangers(evidence);
  const readings = evidence.readings.map(takeOrRefuse);
  return assessSystem({ ...evidence, readings }, await ownPriors(context));
}

type ToldEvidence = z.output<typeof evidenceToAssessSchema>;

function takeOrRefuse(reading: ToldEvidence['readings'][number], index: number): Reading {
  const { quantity, point, method, value, unit } = reading;
  const { taken, refusal } = takeReading({ quantity, point, method, value, unit });
  if (refusal !== undefined) throw impossibleReading(reading, refusal, index);
  return { ...reading, value: taken.value, unit: taken.unit };
}

/** What belongs to no machine would be left out without a word. */
function refuseStrangers({ machines, readings, observations }: ToldEvidence): void {
  const known = new Set(machines.map(({ id }) => id));
  for (const [name, things] of Object.entries({ readings, observations })) {
    const index = things.findIndex(({ equipmentId: id }) => id !== undefined && !known.has(id));
    if (index >= 0) {
      throw unknownReference(`/${name}/${index}/equipmentId`, 'There is no such machine here.');
    }
  }
}
