import { expect } from 'vitest';
import {
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  type FaultCode,
  type Verdict,
} from '../../../../src/trade/index.ts';
import type { Sign } from '../../make-evidence.ts';

export type Row = [name: string, signs: Sign[], standing: Verdict['standing'], reason: string];

/** Expects the verdict of the current rules, and gives it back for a closer look. */
export function expectVerdict(
  fault: FaultCode,
  evidence: Evidence,
  standing: Verdict['standing'],
  reason: string,
): Verdict {
  const verdict = evidenceRulesets[currentEvidenceRuleset].weigh(fault, evidence);
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
  return verdict;
}
