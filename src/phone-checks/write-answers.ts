import { appendJournal } from '../journal/index.ts';
import type { Ticket } from '../platform/database/generated/client.ts';
import type { ActContext } from '../platform/http/route.ts';
import { dialogueOf } from './dialogue-of.ts';
import { saltOfCaller } from './salt-of-caller.ts';
import type { WholeCheck } from './whole-check.ts';

/** Writes the answers of a dialogue beyond those that are written, each with its entry. */
export async function writeAnswers(
  act: ActContext,
  ticket: Ticket,
  check: WholeCheck,
  written: number,
): Promise<void> {
  const rows = check.answers.slice(written);
  if (rows.length === 0) return;
  const personal = personalQuestions(check);
  const salt = await saltOfCaller(act, ticket);
  for (const row of rows) {
    const { sequence, questionCode, note } = row;
    const said = row.numberValue ?? row.answer;
    const isPersonal = personal.has(questionCode);
    await act.tx.phoneAnswer.create({ data: row });
    await appendJournal(act, {
      event: 'phone_check.answered',
      subject: { kind: 'phone_check', id: check.id },
      after: { sequence, questionCode, ...(isPersonal ? {} : { answer: said }) },
      personal: {
        salt,
        after: { ...(isPersonal && { answerOfPerson: said }), ...(note !== null && { note }) },
      },
    });
  }
}

/** Whose answers tell of people. */
function personalQuestions(check: WholeCheck): Set<string> {
  const questions = dialogueOf(check).script.sections.flatMap((section) => section.questions);
  return new Set(questions.filter(({ isPersonal }) => isPersonal).map(({ code }) => code));
}
