import { tripsAgain } from '../phone-script/index.ts';
import { stagesOf } from './stages-of.ts';
import type { WholeCheck } from './whole-check.ts';

/**
 * Whether a breaker counts as reset by a dialogue: from the moment somebody was asked to, also where
 * they hung up over it or went back from it, until they say that they would rather not; and where
 * they told of one that had tripped again. What was read aloud may have been done.
 */
export function wasResetIn(check: Pick<WholeCheck, 'scriptVersion' | 'answers'>): boolean {
  const asked = new Set<string>();
  for (const dialogue of stagesOf(check)) {
    if (tripsAgain(dialogue)) return true;
    const { step } = dialogue;
    if (step.kind === 'ask' && step.question.resetsBreaker) asked.add(step.question.code);
  }
  return [...asked].some((question) => {
    const given = check.answers.filter(({ questionCode }) => questionCode === question);
    return given.length === 0 || given.some(({ answer }) => answer !== 'unknown');
  });
}
