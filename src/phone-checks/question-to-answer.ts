import type { Question } from '../phone-script/index.ts';
import { ProblemError, unknownReference } from '../platform/http/problem.ts';
import type { ReadDialogue } from './dialogue-of.ts';

/**
 * The question that an answer is to: the one that is asked now, or one that was.
 * @throws ProblemError 422 unless the script has it, 409 unless it is asked now or was on the way
 */
export function questionToAnswer(dialogue: ReadDialogue, code: string): Question {
  const { script, path, step } = dialogue;
  const ofScript = script.sections
    .flatMap((section) => section.questions)
    .find((each) => each.code === code);
  if (ofScript === undefined) {
    throw unknownReference('/questionCode', 'The script has no such question.');
  }
  const next = step.kind === 'ask' ? step.question : undefined;
  if (next?.code === code || path.some(({ question }) => question.code === code)) return ofScript;
  throw new ProblemError('not-allowed-now', whyNotAsked(dialogue, ofScript, next), {
    currentState: next === undefined ? 'at_its_end' : 'asking',
    action: 'answer',
    allowedActions: ['answer', 'end'],
    nextQuestion: next?.code ?? null,
    answeredQuestions: path.map(({ question }) => question.code),
  });
}

function whyNotAsked({ known }: ReadDialogue, asked: Question, next: Question | undefined): string {
  if (asked.resetsBreaker === true && known.includes('reset_before')) {
    return 'A breaker here was reset by phone before, or tripped again: it stays off.';
  }
  return next === undefined
    ? 'Nothing more is asked: end the phone checks, or correct an answer.'
    : `That question is not asked now. The next one is ${next.code}.`;
}
