import type { FactGroup } from '../jobs/job-facts.ts';
import type { Correction, RuleAnswer } from './audit-rule.ts';

/** Clear without a sentence, flagged with them. */
export function flaggedBy(
  sentences: readonly string[],
  corrections: readonly Correction[] = [],
): RuleAnswer {
  return sentences.length === 0 ? clear : { outcome: 'flagged', sentences, corrections };
}

export function cannotJudge(...missing: readonly FactGroup[]): RuleAnswer {
  return { outcome: 'cannot_judge', missing };
}

export const clear: RuleAnswer = { outcome: 'clear' };
