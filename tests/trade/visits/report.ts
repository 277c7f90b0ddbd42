import type { Visit } from '../../../seed/visits/visit.ts';
import {
  assessSystem,
  commonPriors,
  currentEvidenceRuleset,
  evidenceOfMachines,
  evidenceRulesets,
  type FaultCode,
  faultCodeSchema,
  findFault,
  type SystemEvidence,
} from '../../../src/trade/index.ts';
import { playVisit, proofsIn, type Strategy, wholeEvidence } from './play-visit.ts';

/** The checks and minutes that one way of choosing takes until the truth is proven. */
export type Course = { checks: number; minutes: number };

/** Undefined when the truth is not proven after everything that this way of choosing ever asks. */
export function courseToProof(visit: Visit, strategy: Strategy): Course | undefined {
  const truth = faultCodeSchema.safeParse(visit.truth);
  if (!truth.success) return undefined;
  const { steps, minutes, evidence } = playVisit(visit.sheet, strategy, (evidence) =>
    isProven(truth.data, evidence),
  );
  return isProven(truth.data, evidence) ? { checks: steps.length, minutes } : undefined;
}

/** Where the truth stands among the suspects once this is recorded, 1 being first. */
export function rankOfTruth({ truth }: Visit, evidence: SystemEvidence): number {
  const { suspects } = assessSystem(evidence, commonPriors).advice;
  const at = suspects.findIndex(({ faultCode }) => (faultCode ?? 'something_else') === truth);
  return at === -1 ? suspects.length + 1 : at + 1;
}

/** Whether all that the sheet can tell proves the truth. */
export function isTruthProven(visit: Visit): boolean {
  const truth = faultCodeSchema.safeParse(visit.truth);
  return truth.success && isProven(truth.data, wholeEvidence(visit.sheet));
}

/** Every cause that this evidence proves, with whether it is rightly proven. */
export function provenCauses(
  { truth }: Visit,
  evidence: SystemEvidence,
): { fault: FaultCode; isRight: boolean }[] {
  return proofsIn(evidence)
    .map(({ verdict }) => verdict.faultCode)
    .filter((fault) => findFault(fault)?.role === 'cause')
    .map((fault) => ({ fault, isRight: fault === truth || isPartOf(fault, truth) }));
}

/** What has leaked is missing: both are the truth of a leak. */
function isPartOf(fault: FaultCode, truth: Visit['truth']): boolean {
  return truth === 'refrigerant_leak' && fault === 'low_charge';
}

function isProven(fault: FaultCode, evidence: SystemEvidence): boolean {
  return evidenceOfMachines(evidence).some(
    (each) => evidenceRulesets[currentEvidenceRuleset].weigh(fault, each).standing === 'proven',
  );
}
