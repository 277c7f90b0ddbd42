import { isDangerQuestion } from './is-danger-question.ts';
import type { Dialogue } from './next-step.ts';

/**
 * Whether a dialogue may end as solved: where the script says so, or in its middle, when what was
 * broken starts by itself. Never before every danger that was asked of is denied. Where a breaker
 * trips again, every script ends, and not as solved.
 */
export function mayBeSolved({ path, step }: Dialogue): boolean {
  if (step.kind === 'done') return step.ending.outcome === 'solved';
  if (step.kind === 'danger' || isDangerQuestion(step.question)) return false;
  return path.every(({ question, given }) => !isDangerQuestion(question) || given.answer === 'no');
}
