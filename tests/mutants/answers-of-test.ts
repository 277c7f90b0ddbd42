import { keptAnswers as keepAnswers } from '../../src/auditing/jobs/kept-answers.ts';

let tests = 0;

/** What was worked out in one test, for another mutant perhaps, is worked out anew in the next. */
export function forgetAnswers(): void {
  tests += 1;
}

export function keptAnswers<Answer>(kept: number): ReturnType<typeof keepAnswers<Answer>> {
  let of = tests;
  let keep = keepAnswers<Answer>(kept);
  return (question, answer) => {
    if (of !== tests) keep = keepAnswers(kept);
    of = tests;
    return keep(question, answer);
  };
}
