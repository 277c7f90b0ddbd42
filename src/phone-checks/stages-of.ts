import { dialogueOf, type ReadDialogue } from './dialogue-of.ts';
import type { WholeCheck } from './whole-check.ts';

/** A dialogue as it stood at its start and after every answer. */
export function* stagesOf({
  scriptVersion,
  answers,
}: Pick<WholeCheck, 'scriptVersion' | 'answers'>): Generator<ReadDialogue> {
  for (let count = 0; count <= answers.length; count += 1) {
    yield dialogueOf({ scriptVersion, answers: answers.slice(0, count) });
  }
}
