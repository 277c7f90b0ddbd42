import { flaggedBy } from './answers.ts';
import type { Correction, RuleAnswer } from './audit-rule.ts';
import type { Lowered } from './lowered.ts';

/**
 * Flagged for charges that would have come to less; clear without any.
 * @param settled what holds of charges of which nothing is left
 */
export function flaggedFor(
  all: readonly Lowered[],
  settled: readonly Correction[] = [],
): RuleAnswer {
  const answer = flaggedBy(
    all.map(({ sentence }) => sentence),
    all.map(({ correction }) => correction),
  );
  return settled.length === 0 || answer.outcome === 'cannot_judge'
    ? answer
    : { ...answer, settled };
}
