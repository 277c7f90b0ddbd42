import { admitEvidence } from './facts/admit-evidence.ts';
import { faultCodeSchema } from './faults/catalog.ts';
import { type Advice, advise } from './next/advise.ts';
import type { Priors } from './next/priors.ts';
import { evidenceOfMachines, type SystemEvidence } from './system-evidence.ts';
import { type Verdict, weigh } from './weigh.ts';

/** The verdict on every fault of each machine, by its id, and what to check next on the system. */
export type SystemAssessment = {
  verdictsOf: ReadonlyMap<string, readonly Verdict[]>;
  advice: Advice;
};

/** Weighs everything recorded about a system by the rules in force, and tells what to check next. */
export function assessSystem(system: SystemEvidence, priors: Priors): SystemAssessment {
  const factsOf = new Map(
    evidenceOfMachines(system).map((each) => [each.equipment.id, admitEvidence(each)]),
  );
  const verdictsOf = new Map(
    [...factsOf].map(([id, facts]) => [
      id,
      faultCodeSchema.options.map((fault) => weigh(fault, facts)),
    ]),
  );
  return { verdictsOf, advice: advise(system.machines, factsOf, verdictsOf, priors) };
}
