import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
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
import { saltOfCaller } from './salt-of-caller.ts';
import type { WholeCheck } from './whole-check.ts';
import { writeEnd } from './write-end.ts';

type NewAnswer = z.output<typeof newPhoneAnswerSchema>;

/**
 * Keeps one answer: to the question that is asked now, or another one to a question that was. The
 * rows stay as they are; a corrected answer is a new row, and the path is walked again. An answer in
 * danger ends the dialogue at once. What is refused after it was written is rolled back with the act.
 * @throws ProblemError 400 for an answer the question does not have, 422 for a question the script
 *   does not have, 409 for one that is not asked now or a dialogue that has ended, 412 where somebody
 *   else answered meanwhile
 */
export async function answerQuestion(
  act: ActContext,
  ticketId: string,
  input: NewAnswer,
): Promise<WholeCheck> {
  const { ticket, check } = await lockLatestCheck(act, ticketId);
  requireOpen(check);
  const before = dialogueOf(check);
  const question = questionToAnswer(before, input.questionCode);
  const given = read(question, input);
  const sequence = check.answers.length + 1;
  const row = await act.tx.phoneAnswer.create({
    data: {
      phoneCheckId: check.id,
      sequence,
      questionCode: question.code,
      answer: given.answer,
      numberValue: given.numberValue ?? null,
      note: input.note ?? null,
      answeredAt: act.now,
      recordedById: act.actor.id,
    },
  });
  const said = given.numberValue ?? given.answer;
  await appendJournal(act, {
    event: 'phone_check.answered',
    subject: { kind: 'phone_check', id: check.id },
    after: {
      sequence,
      questionCode: question.code,
      ...(question.isPersonal ? {} : { answer: said }),
    },
    personal: {
      salt: await saltOfCaller(act, ticket),
      after: { ...(question.isPersonal && { answerOfPerson: said }), note: input.note },
    },
  });
  const answered = { ...check, answers: [...check.answers, row] };
  const after = dialogueOf(answered);
  refuseBetterReset(before, after);
  const { step } = after;
  if (step.kind !== 'danger') return answered;
  return writeEnd(act, answered, { outcome: 'danger', dangerCode: step.code });
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
      allowedActions: before.step.kind === 'ask' ? ['answer', 'end'] : ['end'],
    },
  );
}

/** @throws ProblemError 422 unless the script has it, 409 unless it is asked now or was on the way */
function questionToAnswer({ script, path, step }: ReadDialogue, code: string): Question {
  const questions = script.sections.flatMap((section) => section.questions);
  if (!questions.some((each) => each.code === code)) {
    throw unknownReference('/questionCode', 'The script has no such question.');
  }
  const asked = step.kind === 'ask' ? [step.question] : [];
  const found = [...asked, ...path.map(({ question }) => question)].find(
    (each) => each.code === code,
  );
  if (found !== undefined) return found;
  const [next] = asked;
  throw new ProblemError(
    'not-allowed-now',
    next === undefined
      ? 'Nothing more is asked: end the phone checks, or correct an answer.'
      : `That question is not asked now. The next one is ${next.code}.`,
    {
      currentState: step.kind === 'ask' ? 'asking' : 'at_its_end',
      action: 'answer',
      allowedActions: step.kind === 'ask' ? ['answer', 'end'] : ['end'],
      nextQuestion: next?.code ?? null,
      answeredQuestions: path.map(({ question }) => question.code),
    },
  );
}

function read(question: Question, { answer, answers, value }: NewAnswer): GivenAnswer {
  const typed =
    answer !== undefined ? { answer } : answers !== undefined ? { answers } : { value: value ?? 0 };
  const given = readAnswer(question, typed);
  if ('question' in given) return given;
  throw wrongField(`/${given.field}`, 'not_an_answer', given.message);
}
