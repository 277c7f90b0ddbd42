import type { Evidence } from './evidence.ts';
import { admitEvidence, type Facts } from './facts/admit-evidence.ts';
import type { LookedAt } from './facts/looked-at.ts';
import { type FaultCode, faults } from './faults/catalog.ts';

/** What must still be looked at before the fault may be blamed, in words; empty when all is done. */
export function exclusionsMissing(faultCode: FaultCode, evidence: Evidence): string[] {
  const facts = admitEvidence(evidence);
  return faults[faultCode].exclusions
    .filter(({ doneWhen }) => !doneWhen.some((sign) => isLookedAt(facts, sign)))
    .map(({ statement }) => statement);
}

function isLookedAt(facts: Facts, sign: LookedAt): boolean {
  if ('observation' in sign) {
    return facts.observations.some(
      (each) => each.code === sign.observation && sign.answers.includes(each.answer),
    );
  }
  return facts.readings.some(
    (each) => each.point === sign.point && each.quantity === sign.quantity,
  );
}
