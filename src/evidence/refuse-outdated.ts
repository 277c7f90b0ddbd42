import type { Tx } from '../platform/database/database.ts';
import { ProblemError } from '../platform/http/problem.ts';
import {
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  faultCodeSchema,
  remedyFor,
  type Verdict,
} from '../trade/index.ts';
import type { WholeFinding } from './findings-of.ts';
import { gatherEvidence } from './gather-evidence.ts';
import { isCarried } from './is-carried.ts';

/**
 * Refuses findings that rest on their frozen verdict alone: what has been recorded since must
 * carry them too. A finding that the owner has let through stands on the owner's reason.
 * @throws ProblemError 422 naming the first finding that today's evidence no longer carries
 */
export async function refuseOutdated(
  tx: Pick<Tx, 'equipment' | 'site' | 'reading' | 'observation'>,
  findings: readonly WholeFinding[],
): Promise<void> {
  const resting = findings.filter((finding) => finding.override === null);
  for (const visitId of new Set(resting.map((finding) => finding.visitId))) {
    const ofVisit = resting.filter((finding) => finding.visitId === visitId);
    const machines = ofVisit.map(({ equipmentId }) => equipmentId);
    const evidence = await gatherEvidence(tx, visitId, machines);
    for (const finding of ofVisit) refuseUncarried(finding, evidence.get(finding.equipmentId));
  }
}

function refuseUncarried(finding: WholeFinding, evidence: Evidence | undefined): void {
  if (evidence === undefined)
    throw new Error(`finding ${finding.id} is on no machine of its visit`);
  const faultCode = faultCodeSchema.parse(finding.faultCode);
  const remedy = remedyFor(faultCode, finding.taskCode);
  const verdict = evidenceRulesets[currentEvidenceRuleset].weigh(faultCode, evidence);
  if (remedy === undefined || !isCarried(faultCode, remedy, evidence, verdict)) {
    throw outdated(finding, verdict);
  }
}

function outdated(finding: WholeFinding, verdict: Verdict): ProblemError {
  return new ProblemError(
    'evidence-missing',
    `The finding was ${finding.standing} when it was added; with what is recorded by now it is ` +
      `${verdict.standing.replaceAll('_', ' ')}: ${verdict.reason}. Add the finding again.`,
    { findingId: finding.id, standing: verdict.standing, reason: verdict.reason },
  );
}
