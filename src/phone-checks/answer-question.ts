import type { z } from 'zod';
import {
  type GivenAnswer,
  mayBeCorrected,
  type Question,
  readAnswer,
} from '../phone-script/index.ts';
import { ProblemError, unknownReference, wrongField } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { newPhoneAnswerSchema } from './contract.ts';
import { dialogueOf, type ReadDialogue } from './dialogue-of.ts';
import { lockLatestCheck, requireOpen } from './latest-check.ts';
import { learnOfResets } from './learn-of-resets.ts';
import { requireAsked } from './require-asked.ts';
import type { WholeCheck } from './whole-check.ts';
import { withSaid } from './with-said.ts';
import { writeAnswers } from './write-answers.ts';
import { writeEnd } from './write-end.ts';

type NewAnswer = z.output<typeof newPhoneAnswerSchema>;

/**
 * Keeps one answer: to the question that is asked now, or another one to a question that was. The
 * rows stay as they are; a corrected answer is a new row, and the path is walked again. What became
 * known of the site meanwhile comes before it, so that no second reset is asked for. An answer in
 * danger is taken at any time, and ends the dialogue at once. All is decided before anything is written.
 * @throws ProblemError 400 for an answer the question does not have, 422 for a question the script
 *   does not have, 409 for one that is not asked now or a dialogue that has ended, 412 where somebody
 *   else answered meanwhile
 */
export async function answerQuestion(
  act: ActContext,
  ticketId: string,
  input: NewAnswer,
): Promise<WholeCheck> {
  const { ticket, check, written } = await lockLatestCheck(act, ticketId);
  requireOpen(check);
  const before = dialogueOf(check);
  const question = questionOf(before, input.questionCode);
  const { answer, numberValue = null } = read(question, input);
  const said = { questionCode: question.code, answer, numberValue, note: input.note ?? null };
  const alone = withSaid(check, [said], act);
  requireAsked(before, dialogueOf(alone), question);
  const learned = await learnOfResets(act, ticket.siteId, alone);
  const answered = withSaid(check, [...learned, said], act);
  const after = dialogueOf(answered);
  refuseBetterReset(before, after);
  await writeAnswers(act, ticket, answered, written);
  const { step } = after;
  if (step.kind !== 'danger') return answered;
  return writeEnd(act, ticket, answered, { outcome: 'danger', dangerCode: step.code });
}

/** @throws ProblemError 409 where a breaker that tripped again would be called reset after all */
function refuseBetterReset(before: ReadDialogue, after: ReadDialogue): void {
  if (mayBeCorrected(before, after)) return;
  throw new ProblemError(
    'not-allowed-now',
    'What came of a reset stays as it was told: a breaker is reset once. End the phone checks.',
    {
      currentState: before.step.kind === 'ask' ? 'asking' : 'at_its_end',
      action: 'answer',
      allowedActions: ['answer', 'end'],
    },
  );
}

/** @throws ProblemError 422 unless the script has it */
function questionOf({ script }: ReadDialogue, code: string): Question {
  const found = script.sections
    .flatMap((section) => section.questions)
    .find((each) => each.code === code);
  if (found === undefined) {
    throw unknownReference('/questionCode', 'The script has no such question.');
  }
  return found;
}

function read(question: Question, { answer, answers, value }: NewAnswer): GivenAnswer {
  const typed =
    answer !== undefined ? { answer } : answers !== undefined ? { answers } : { value: value ?? 0 };
  const given = readAnswer(question, typed);
  if ('question' in given) return given;
  throw wrongField(`/${given.field}`, 'not_an_answer', given.message);
}
