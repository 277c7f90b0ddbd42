import type { Dialogue } from './next-step.ts';
import { tripsAgain } from './trips-again.ts';

/**
 * Whether a correction may be taken. A breaker that tripped again, once told, stays told, unless what
 * is corrected is that there is danger, or leads to a question about people before it comes to the
 * breaker again: how hot somebody has it may be told at any time. What came of a reset is never
 * corrected to something better, nor taken back: that would be a second reset. The choices of a reset
 * are listed from best to worst.
 */
export function mayBeCorrected(before: Dialogue, after: Dialogue): boolean {
  if (after.step.kind === 'danger') return true;
  if (tripsAgain(before) && !tripsAgain(after)) return asksOfPeople(after);
  return after.path.every(({ question, given }) => {
    if (question.resetsBreaker === undefined || !('choices' in question.asks)) return true;
    const codes = question.asks.choices.map(({ code }) => code);
    const earlier = before.path.find((each) => each.question.code === question.code);
    if (earlier === undefined) return true;
    return codes.indexOf(given.answer) >= codes.indexOf(earlier.given.answer);
  });
}

function asksOfPeople({ step }: Dialogue): boolean {
  return step.kind === 'ask' && step.question.isPersonal === true;
}
