import { findFault, taskCodeSchema, taskWords } from '../../trade/index.ts';
import type { JobFinding } from '../jobs/job-facts.ts';
import { cannotJudge, flaggedBy } from './answers.ts';
import type { AuditRule } from './audit-rule.ts';
import { isReset } from './is-reset.ts';
import { isUndone } from './is-sold-and-not-undone.ts';

/**
 * A reset without a recorded look for its cause is not complete, whether anybody paid for it or not:
 * what tripped once trips again.
 */
export const resetWithoutCause: AuditRule<'reset_without_cause'> = {
  code: 'reset_without_cause',
  statement: 'Behind every reset stands a look for its cause, on record.',
  severity: 'record',
  source: 'A breaker, fuse or switch is never the cause',
  judge: (job) => {
    if (job.findings === undefined) return cannotJudge('findings');
    const resets = job.findings.filter(
      (finding) => hasCauseBehind(finding) && !isUndone(job, finding.id),
    );
    const without = resets.filter(({ causeLookedFor }) => causeLookedFor === false);
    const isUnknown = resets.some(({ causeLookedFor }) => causeLookedFor === undefined);
    if (without.length === 0 && isUnknown) return cannotJudge('cause_search');
    return flaggedBy(
      without.map(({ taskCode }) => `${nameOf(taskCode)}: no look for its cause is on record.`),
    );
  },
};

/** By the catalog, never by what is stored; a fault that is a cause itself has no other to look for. */
function hasCauseBehind({ faultCode, taskCode }: JobFinding): boolean {
  return isReset(taskCode) && findFault(faultCode)?.role === 'symptom';
}

function nameOf(taskCode: string): string {
  const task = taskCodeSchema.safeParse(taskCode);
  return task.success ? taskWords[task.data].name : taskCode;
}
