import { holds } from './holds.ts';
import { isDangerQuestion } from './is-danger-question.ts';
import type { Dialogue } from './next-step.ts';
import type { FactCode, Script } from './script.ts';

/**
 * Whether a dialogue may end as solved: where the script says so, or in its middle, when what was
 * broken starts by itself. Never before every danger that was asked of is denied. Where a breaker
 * trips again, every script ends, and not as solved; where water or ice was seen, only a question
 * about it says that it is solved.
 */
export function mayBeSolved(
  { solvedAtItsEndOnly }: Pick<Script, 'solvedAtItsEndOnly'>,
  facts: readonly FactCode[],
  { path, step }: Dialogue,
): boolean {
  if (step.kind === 'done') return step.ending.outcome === 'solved';
  if (step.kind === 'danger' || isDangerQuestion(step.question)) return false;
  const answers = new Map(path.map(({ question, given }) => [question.code, given]));
  if (solvedAtItsEndOnly !== undefined && holds(solvedAtItsEndOnly, { facts, answers }))
    return false;
  return path.every(({ question, given }) => !isDangerQuestion(question) || given.answer === 'no');
}
