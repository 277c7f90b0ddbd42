import { holds } from './holds.ts';
import { isDangerQuestion } from './is-danger-question.ts';
import type { FactCode, Question, Script } from './script.ts';

/** The questions that may be answered in danger at any time, before their turn too. */
export function dangerQuestionsOf(script: Script, facts: readonly FactCode[]): Question[] {
  const known = { facts, answers: new Map() };
  return script.sections
    .filter(({ when }) => when === undefined || holds(when, known))
    .flatMap(({ questions }) => questions)
    .filter(isDangerQuestion)
    .filter(({ when }) => when === undefined || holds(when, known));
}
