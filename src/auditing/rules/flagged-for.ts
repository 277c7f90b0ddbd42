import { flaggedBy } from './answers.ts';
import type { RuleAnswer } from './audit-rule.ts';
import type { Lowered } from './lowered.ts';

/** Flagged for charges that would have come to less; clear without any. */
export function flaggedFor(all: readonly Lowered[]): RuleAnswer {
  return flaggedBy(
    all.map(({ sentence }) => sentence),
    all.map(({ correction }) => correction),
  );
}
