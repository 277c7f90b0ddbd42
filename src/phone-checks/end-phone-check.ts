import type { z } from 'zod';
import { mayBeSolved, observedIn, tripsAgain } from '../phone-script/index.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { solveByPhone } from '../tickets/index.ts';
import type { phoneCheckEndSchema } from './contract.ts';
import { dialogueOf, type ReadDialogue } from './dialogue-of.ts';
import { lockLatestCheck, requireOpen } from './latest-check.ts';
import { stagesOf } from './stages-of.ts';
import type { WholeCheck } from './whole-check.ts';
import { writeAnswers } from './write-answers.ts';
import { writeEnd } from './write-end.ts';

/**
 * Ends a dialogue. Solved ends its ticket at no charge, with a call back within a day. In any case
 * what was told of the equipment is kept as reported: whoever is sent reads it first.
 * @throws ProblemError 409 for an outcome that the answers do not carry, a dialogue that has ended,
 *   or a ticket that cannot be solved by phone; 412 where somebody else went on with it meanwhile
 */
export async function endPhoneCheck(
  act: ActContext,
  ticketId: string,
  input: z.output<typeof phoneCheckEndSchema>,
): Promise<WholeCheck> {
  const { ticket, check, written } = await lockLatestCheck(act, ticketId);
  requireOpen(check);
  const dialogue = dialogueOf(check);
  requireCarried(check, dialogue, input.outcome);
  await writeAnswers(act, ticket, check, written);
  if (input.outcome === 'solved') {
    const { whatHelped } = input;
    await solveByPhone(act, ticket, { answers: observedIn(dialogue), whatHelped });
    return writeEnd(act, ticket, check, { outcome: 'solved' });
  }
  const { outcome, note = null } = input;
  return writeEnd(act, ticket, check, { outcome, endNote: note });
}

type Outcome = z.output<typeof phoneCheckEndSchema>['outcome'];

function requireCarried(check: WholeCheck, dialogue: ReadDialogue, outcome: Outcome): void {
  const allowed = outcomesOf(check, dialogue);
  if (allowed.includes(outcome)) return;
  const { step } = dialogue;
  throw new ProblemError(
    'not-allowed-now',
    step.kind === 'ask'
      ? `There is more to ask first: ${step.question.code}.`
      : `The answers came to ${step.kind === 'done' ? step.ending.outcome : 'danger'}. End it so, or correct the answer that is wrong.`,
    {
      currentState: step.kind === 'ask' ? 'asking' : 'at_its_end',
      action: 'end',
      allowedActions: ['answer', 'end'],
      allowedOutcomes: allowed,
    },
  );
}

/**
 * A caller may hang up at any moment; not solved is what the script came to. A second trip that was
 * told is never solved, also while a corrected answer has led back to an earlier question.
 */
function outcomesOf(check: WholeCheck, dialogue: ReadDialogue): Outcome[] {
  const { script, known, step } = dialogue;
  if (step.kind === 'done' && step.ending.outcome === 'not_solved') return ['not_solved'];
  const isSolved = mayBeSolved(script, known, dialogue) && ![...stagesOf(check)].some(tripsAgain);
  return [...(isSolved ? (['solved'] as const) : []), 'broken_off'];
}
