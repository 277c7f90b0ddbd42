import { isDangerQuestion } from './is-danger-question.ts';
import type { Dialogue } from './next-step.ts';
import { observedIn } from './observed-in.ts';

/**
 * Whether a dialogue may end as solved: where the script says so, or in its middle, when what was
 * broken starts by itself. Never while a danger was not denied, nor where a breaker tripped again.
 */
export function mayBeSolved(dialogue: Dialogue): boolean {
  const { path, step } = dialogue;
  if (step.kind === 'done') return step.ending.outcome === 'solved';
  if (step.kind === 'danger' || isDangerQuestion(step.question)) return false;
  const tripped = observedIn(dialogue).some(
    ({ code, answer }) => code === 'breaker_trips_again' && answer === 'yes',
  );
  return (
    !tripped && path.every((each) => !isDangerQuestion(each.question) || each.given.answer === 'no')
  );
}
