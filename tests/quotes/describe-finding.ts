import type { DescribedFinding } from '../../src/quotes/compose-paper.ts';
import {
  currentEvidenceRuleset,
  dueBefore,
  type Evidence,
  evidenceRulesets,
  type FaultCode,
  remedyFor,
  type TaskCode,
} from '../../src/trade/index.ts';

/** A finding as a visit would hold it: weighed from this evidence, with the owner's word if any. */
export function findingOf(
  faultCode: FaultCode,
  taskCode: TaskCode,
  evidence: Evidence,
  more: { id?: string; overrideReason?: string } = {},
): DescribedFinding {
  const verdict = evidenceRulesets[currentEvidenceRuleset].weigh(faultCode, evidence);
  const remedyClass = remedyFor(faultCode, taskCode)?.remedyClass;
  if (remedyClass === undefined) throw new Error(`${taskCode} is no remedy of ${faultCode}`);
  const at = '2026-07-14T16:00:00.000Z';
  const { overrideReason } = more;
  return {
    id: more.id ?? faultCode,
    visitId: 'visit-1',
    equipmentId: evidence.equipment.id,
    faultCode,
    faultName: faultCode.replaceAll('_', ' '),
    taskCode,
    remedyClass,
    standing: verdict.standing,
    reason: verdict.reason,
    doubts: verdict.doubts,
    criteria: verdict.criteria,
    exclusionsMissing: dueBefore(faultCode, remedyClass, evidence),
    cautions: [],
    causeSearch: 'not_due',
    priceable: overrideReason === undefined,
    override: overrideReason === undefined ? null : { reason: overrideReason, grantedAt: at },
    parts: [],
    rulesetVersion: currentEvidenceRuleset,
    foundAt: at,
  };
}
