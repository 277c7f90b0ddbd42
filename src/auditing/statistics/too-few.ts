import type { Comparison } from './compare-with-others.ts';

/** Why there is not enough to say anything of one of several. */
export function tooFew({ trials, ownTrials }: Pick<Comparison, 'trials' | 'ownTrials'>): string {
  if (trials === ownTrials) return 'That is too few to say anything.';
  if (trials === 0) return 'None of them can be compared with those of others.';
  return `Only ${trials} of them can be compared with those of others: too few to say anything.`;
}
