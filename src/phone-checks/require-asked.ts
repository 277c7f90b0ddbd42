import type { Question } from '../phone-script/index.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ReadDialogue } from './dialogue-of.ts';

/**
 * Refuses an answer to a question that is not asked now and was not before; danger is told at any time.
 * @param after the dialogue as the answer would leave it
 * @throws ProblemError 409 naming the question that is asked
 */
export function requireAsked(before: ReadDialogue, after: ReadDialogue, question: Question): void {
  const { path, step } = before;
  const next = step.kind === 'ask' ? step.question : undefined;
  const isOnTheWay = path.some((each) => each.question.code === question.code);
  if (next?.code === question.code || isOnTheWay || after.step.kind === 'danger') return;
  throw new ProblemError('not-allowed-now', whyNotAsked(before, question, next), {
    currentState: next === undefined ? 'at_its_end' : 'asking',
    action: 'answer',
    allowedActions: ['answer', 'end'],
    nextQuestion: next?.code ?? null,
    answeredQuestions: path.map((each) => each.question.code),
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
