import { tripsAgain } from '../phone-script/index.ts';
import { dialogueOf } from './dialogue-of.ts';
import type { WholeCheck } from './whole-check.ts';

/**
 * Whether a breaker counts as reset by a dialogue: from the moment somebody was asked to, also where
 * they hung up over it or went back from it, until they say that they would rather not; and where
 * they told of one that had tripped again. What was read aloud may have been done.
 */
export function wasResetIn({
  scriptVersion,
  answers,
}: Pick<WholeCheck, 'scriptVersion' | 'answers'>): boolean {
  const asked = new Set<string>();
  for (let count = 0; count <= answers.length; count += 1) {
    const dialogue = dialogueOf({ scriptVersion, answers: answers.slice(0, count) });
    if (tripsAgain(dialogue)) return true;
    const { step } = dialogue;
    if (step.kind === 'ask' && step.question.resetsBreaker) asked.add(step.question.code);
  }
  return [...asked].some((question) => {
    const given = answers.filter(({ questionCode }) => questionCode === question);
    return given.length === 0 || given.some(({ answer }) => answer !== 'unknown');
  });
}
