import type { GivenAnswer } from './given-answer.ts';
import type { Condition, FactCode } from './script.ts';

/** What a condition looks at. */
export interface KnownSoFar {
  facts: readonly FactCode[];
  /** By the code of their question. */
  answers: ReadonlyMap<string, GivenAnswer>;
}

/** Whether a condition holds, as far as is known. */
export function holds(condition: Condition, known: KnownSoFar): boolean {
  if ('known' in condition) return known.facts.includes(condition.known);
  if ('all' in condition) return condition.all.every((each) => holds(each, known));
  if ('any' in condition) return condition.any.some((each) => holds(each, known));
  if ('not' in condition) return !holds(condition.not, known);
  const given = known.answers.get(condition.question);
  if (given === undefined) return false;
  if ('is' in condition) return isOneOf(given, condition.is);
  return given.numberValue !== undefined && given.numberValue >= condition.atLeast;
}

/** Whether an answer, or one of several choices, is among some. */
export function isOneOf({ answer }: GivenAnswer, among: readonly string[]): boolean {
  return answer.split(',').some((each) => among.includes(each));
}
