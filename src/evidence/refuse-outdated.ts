import type { Tx } from '../platform/database/database.ts';
import { ProblemError } from '../platform/http/problem.ts';
import {
  currentEvidenceRuleset,
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
  tx: Pick<Tx, 'equipment' | 'reading' | 'observation'>,
  findings: readonly WholeFinding[],
): Promise<void> {
  const resting = findings.filter((finding) => finding.override === null);
  const machines = await tx.equipment.findMany({
    where: { id: { in: resting.map((finding) => finding.equipmentId) } },
  });
  for (const machine of machines) {
    for (const finding of resting.filter(({ equipmentId }) => equipmentId === machine.id)) {
      const faultCode = faultCodeSchema.parse(finding.faultCode);
      const remedy = remedyFor(faultCode, finding.taskCode);
      const evidence = await gatherEvidence(tx, finding.visitId, machine);
      const verdict = evidenceRulesets[currentEvidenceRuleset].weigh(faultCode, evidence);
      if (remedy === undefined || !isCarried(faultCode, remedy, evidence, verdict)) {
        throw outdated(finding, verdict);
      }
    }
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
