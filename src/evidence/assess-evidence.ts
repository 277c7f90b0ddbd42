import type { z } from 'zod';
import { refuseImpossiblePlate } from '../equipment/index.ts';
import { unknownReference } from '../platform/http/problem.ts';
import type { ReadContext } from '../platform/http/route.ts';
import { type Reading, type Shown, takeReading } from '../trade/index.ts';
import { assessSystem } from './assess-system.ts';
import type { evidenceAssessmentSchema, evidenceToAssessSchema } from './assessment-contract.ts';
import { impossibleReading } from './impossible-reading.ts';
import { ownPriors } from './own-priors.ts';
import { refuseExcluded } from './refuse-excluded.ts';
import { refuseMisplaced } from './refuse-misplaced.ts';
import { refuseWetAboveDry } from './refuse-wet-above-dry.ts';

/**
 * The same as at a visit for evidence that is told and not kept: nothing of it is stored.
 * @throws ProblemError 400 for a nameplate that cannot be, or two things seen that exclude each
 *   other; 422 for a reading that cannot be, or anything noted on a machine that is not among those
 *   told or cannot have it
 */
export async function assessEvidence(
  context: ReadContext,
  evidence: ToldEvidence,
): Promise<z.input<typeof evidenceAssessmentSchema>> {
  for (const [index, { nameplate }] of evidence.machines.entries()) {
    refuseImpossiblePlate(nameplate, `/machines/${index}/nameplate`);
  }
  refuseStrangers(evidence);
  const taken = evidence.readings.map(takeOrRefuse);
  refuseWetAboveDry(taken);
  refuseExcluded(
    evidence.observations.map((each, index) => {
      return { ...each, pointer: `/observations/${index}/answer` };
    }),
  );
  const readings = taken.map(({ shown: _, pointer: __, ...reading }) => reading);
  return assessSystem({ ...evidence, readings }, await ownPriors(context));
}

type ToldEvidence = z.output<typeof evidenceToAssessSchema>;

function takeOrRefuse(
  reading: ToldEvidence['readings'][number],
  index: number,
): Reading & { shown: Shown; pointer: string } {
  const { quantity, point, method, value, unit } = reading;
  const { taken, refusal } = takeReading({ quantity, point, method, value, unit });
  if (refusal !== undefined) throw impossibleReading(reading, refusal, index);
  return {
    ...reading,
    value: taken.value,
    unit: taken.unit,
    shown: { value, unit: taken.shownUnit },
    pointer: `/readings/${index}/value`,
  };
}

/** What belongs to no machine would be left out without a word. */
function refuseStrangers({ machines, readings, observations }: ToldEvidence): void {
  const known = new Set(machines.map(({ id }) => id));
  for (const [name, things] of Object.entries({ readings, observations })) {
    const index = things.findIndex(({ equipmentId: id }) => id !== undefined && !known.has(id));
    if (index >= 0) {
      throw unknownReference(`/${name}/${index}/equipmentId`, 'There is no such machine here.');
    }
    for (const [at, thing] of things.entries()) refuseMisplaced(machines, thing, `/${name}/${at}`);
  }
}
