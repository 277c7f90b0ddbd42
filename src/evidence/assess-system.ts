import type { z } from 'zod';
import {
  currentEvidenceRuleset,
  findFault,
  type SystemEvidence,
  type Verdict,
  assessSystem as weighSystem,
} from '../trade/index.ts';
import type { evidenceAssessmentSchema } from './assessment-contract.ts';
import type { OwnPriors } from './own-priors.ts';

type SystemAssessment = z.input<typeof evidenceAssessmentSchema>;

/**
 * What is proven, supported or excluded on each machine of a system, who is suspected and what to
 * check next.
 * @param select which machines' verdicts are wanted, and whether also those that say nothing
 */
export function assessSystem(
  evidence: SystemEvidence,
  { priors, until }: OwnPriors,
  select: { equipmentId?: string | undefined; all: boolean } = { all: false },
): SystemAssessment {
  const { verdictsOf, advice } = weighSystem(evidence, priors);
  return {
    rulesetVersion: currentEvidenceRuleset,
    machines: [...verdictsOf]
      .filter(([equipmentId]) => equipmentId === (select.equipmentId ?? equipmentId))
      .map(([equipmentId, verdicts]) => {
        const told = select.all ? [...verdicts] : verdicts.filter(saysSomething);
        const named = told.map((each) => ({
          ...each,
          faultName: findFault(each.faultCode)?.name ?? each.faultCode,
        }));
        return { equipmentId, verdicts: named, verdictsLeftOut: verdicts.length - told.length };
      }),
    advice: { ...advice, priors: { ...advice.priors, until } },
  };
}

/** Whether the fault fits the machine and anything that bears on it was recorded. */
function saysSomething({ standing, criteria }: Verdict): boolean {
  return (
    standing !== 'not_applicable' && criteria.some(({ outcome }) => outcome !== 'not_recorded')
  );
}
